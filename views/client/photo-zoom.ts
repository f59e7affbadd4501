/** A photograph grows and shrinks under the wheel, two fingers and the keys. Without script its steps are pages of their own. */
const figure = document.querySelector<HTMLElement>('[data-photo-zoom]')
if (figure) start(figure)

const MOST = 8

function start(figure: HTMLElement): void {
  const box = figure.querySelector<HTMLElement>('[data-zoom-box]')
  const picture = box?.querySelector('img')
  if (!box || !picture) return
  const steps = [...figure.querySelectorAll<HTMLAnchorElement>('[data-step]')]
  const zoomOf = (step: HTMLAnchorElement) => Number(new URL(step.href).searchParams.get('zoom') ?? 1)
  let zoom = zoomOf(steps.find((step) => step.ariaCurrent === 'true') ?? steps[0]!)

  /** The point that is looked at, in the window, stays where it is. */
  const zoomTo = (wanted: number, at = centreOf(box)) => {
    const next = Math.min(MOST, Math.max(1, wanted))
    if (Math.abs(next - zoom) < 0.001) return
    const before = picture.getBoundingClientRect()
    const [x, y] = [(at.x - before.left) / before.width, (at.y - before.top) / before.height]
    zoom = next
    const isWhole = zoom === 1
    box.classList.remove('zoom-1', 'zoom-2', 'zoom-4')
    box.classList.toggle('zoom-1', isWhole)
    box.classList.toggle('is-zoomed', !isWhole)
    picture.style.width = isWhole ? '' : `${zoom * 100}%`
    // The largest file, as soon as there is more to see in it.
    if (!isWhole) picture.sizes = '2400px'
    const after = picture.getBoundingClientRect()
    box.scrollLeft += after.left + x * after.width - at.x
    box.scrollTop += after.top + y * after.height - at.y
    for (const step of steps) {
      if (zoomOf(step) === zoom) step.ariaCurrent = 'true'
      else step.removeAttribute('aria-current')
    }
  }

  for (const step of steps) {
    step.addEventListener('click', (event) => {
      if (event.ctrlKey || event.metaKey || event.shiftKey) return
      event.preventDefault()
      zoomTo(zoomOf(step))
    })
  }
  box.addEventListener('keydown', (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return
    const wanted = { '+': zoom * 1.25, '=': zoom * 1.25, '-': zoom / 1.25, '0': 1 }[event.key]
    if (wanted === undefined) return
    event.preventDefault()
    zoomTo(wanted)
  })
  // A wheel over a picture that was not chosen scrolls the page, as everywhere.
  box.addEventListener(
    'wheel',
    (event) => {
      if (!event.ctrlKey && document.activeElement !== box) return
      event.preventDefault()
      zoomTo(zoom * Math.exp(-event.deltaY / 400), { x: event.clientX, y: event.clientY })
    },
    { passive: false },
  )
  pinch(box, (factor, at) => zoomTo(zoom * factor, at))
  const hint = figure.querySelector<HTMLElement>('[data-zoom-hint]')
  if (hint) hint.hidden = false
}

interface Point {
  readonly x: number
  readonly y: number
}

function pinch(box: HTMLElement, grow: (factor: number, at: Point) => void): void {
  const fingers = new Map<number, Point>()
  const lift = (event: PointerEvent) => void fingers.delete(event.pointerId)
  box.style.touchAction = 'pan-x pan-y'
  box.addEventListener('pointerdown', (event) => {
    if (event.pointerType === 'touch') fingers.set(event.pointerId, { x: event.clientX, y: event.clientY })
  })
  box.addEventListener('pointermove', (event) => {
    const other = [...fingers].find(([id]) => id !== event.pointerId)?.[1]
    const was = fingers.get(event.pointerId)
    if (!was || !other) return
    const now = { x: event.clientX, y: event.clientY }
    fingers.set(event.pointerId, now)
    const distance = (point: Point) => Math.hypot(point.x - other.x, point.y - other.y)
    grow(distance(now) / Math.max(1, distance(was)), { x: (now.x + other.x) / 2, y: (now.y + other.y) / 2 })
  })
  for (const end of ['pointerup', 'pointercancel', 'pointerleave'] as const) box.addEventListener(end, lift)
}

function centreOf(box: HTMLElement): Point {
  const { left, top } = box.getBoundingClientRect()
  return { x: left + box.clientWidth / 2, y: top + box.clientHeight / 2 }
}
