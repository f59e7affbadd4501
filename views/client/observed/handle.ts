import type { Point } from '../../../shared/observed/homography.ts'

export interface HandleSpec {
  readonly name: string
  readonly label: string
  readonly kind: 'corner' | 'bend' | 'bar'
  /** Where it stands, in pixels of the picture. */
  readonly at: () => Point
  /** Puts it elsewhere; false when it cannot stand there. */
  readonly move: (place: Point) => boolean
}

export interface Handles {
  /** Puts every handle where it belongs, and hides those that are not asked for. */
  readonly place: (shown: (spec: HandleSpec) => boolean) => void
}

/** Buttons on the picture that are dragged, or moved by arrow keys. */
export function addHandles(
  stage: HTMLElement,
  canvas: HTMLCanvasElement,
  specs: readonly HandleSpec[],
  { changed, looked }: { changed: (spec: HandleSpec) => void; looked: (at: Point | undefined) => void },
): Handles {
  const buttons = specs.map((spec) => {
    const button = document.createElement('button')
    button.type = 'button'
    button.className = `observed-handle is-${spec.kind}`
    button.dataset.handle = spec.name
    button.setAttribute('aria-label', spec.label)
    const word = document.createElement('span')
    word.textContent = spec.name
    button.append(word)
    stage.append(button)
    const go = (place: Point) => {
      const inside = {
        x: Math.min(canvas.width, Math.max(0, place.x)),
        y: Math.min(canvas.height, Math.max(0, place.y)),
      }
      if (spec.move(inside)) changed(spec)
      looked(spec.at())
    }
    dragged(button, canvas, go, spec)
    button.addEventListener('keydown', (event) => {
      const way = ARROWS[event.key]
      if (!way || event.ctrlKey || event.altKey || event.metaKey) return
      event.preventDefault()
      // One pixel of the picture, or a fiftieth of what is seen of it.
      const step = event.shiftKey ? Math.max(10, canvas.width / 50) : 1
      const { x, y } = spec.at()
      go({ x: x + way[0] * step, y: y + way[1] * step })
    })
    button.addEventListener('focus', () => looked(spec.at()))
    button.addEventListener('blur', () => looked(undefined))
    return button
  })
  const place = (shown: (spec: HandleSpec) => boolean) =>
    specs.forEach((spec, index) => {
      const button = buttons[index]!
      button.hidden = !shown(spec)
      if (button.hidden) return
      const { x, y } = spec.at()
      button.style.left = `${(100 * x) / canvas.width}%`
      button.style.top = `${(100 * y) / canvas.height}%`
    })
  return { place }
}

const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
}

/** The handle keeps its distance from the finger: it does not jump under it. */
function dragged(button: HTMLElement, canvas: HTMLCanvasElement, go: (place: Point) => void, spec: HandleSpec): void {
  let grip: Point | undefined
  const inPicture = (event: PointerEvent): Point => {
    const box = canvas.getBoundingClientRect()
    return {
      x: ((event.clientX - box.left) * canvas.width) / box.width,
      y: ((event.clientY - box.top) * canvas.height) / box.height,
    }
  }
  button.addEventListener('pointerdown', (event) => {
    if (event.button !== 0) return
    const [at, place] = [inPicture(event), spec.at()]
    grip = { x: place.x - at.x, y: place.y - at.y }
    button.setPointerCapture(event.pointerId)
    button.focus()
    event.preventDefault()
  })
  button.addEventListener('pointermove', (event) => {
    if (!grip) return
    const at = inPicture(event)
    go({ x: at.x + grip.x, y: at.y + grip.y })
  })
  for (const end of ['pointerup', 'pointercancel'] as const) button.addEventListener(end, () => (grip = undefined))
}
