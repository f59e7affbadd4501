import type { ColourKey } from '../../../shared/draft/draft.ts'

/** What the picture of the cells is drawn from. */
export interface FaceNow {
  readonly tablets: number
  readonly picks: number
  readonly cells: readonly (readonly (ColourKey | null)[])[]
  /** `#rrggbb` of each key. */
  readonly hexOf: ReadonlyMap<ColourKey, string>
  readonly corrected: ReadonlySet<number>
  /** What is said of a cell that is chosen. */
  readonly say: (cell: number) => string
}

export interface FacePicture {
  readonly draw: () => void
  /** Sets the chosen cell, as its key does. */
  readonly choose: (key: ColourKey | null | undefined) => void
}

/** The cells as read, to be put right by pointer and keys. Undefined as a key takes a correction back. */
export function facePicture(
  box: HTMLElement,
  canvas: HTMLCanvasElement,
  status: HTMLElement,
  now: () => FaceNow | undefined,
  correct: (cell: number, key: ColourKey | null | undefined) => void,
): FacePicture {
  let chosen = 0
  const sideOf = ({ tablets }: FaceNow) =>
    Math.max(20, Math.min(28, Math.floor(((box.parentElement?.clientWidth ?? 300) - 4) / tablets)))

  const draw = () => {
    const face = now()
    if (!face) return
    chosen = Math.min(chosen, face.tablets * face.picks - 1)
    drawCells(canvas, face, sideOf(face), chosen)
  }
  const say = () => {
    const face = now()
    if (face) status.textContent = face.say(chosen)
  }
  const choose = (key: ColourKey | null | undefined) => {
    correct(chosen, key)
    draw()
    say()
  }
  const goTo = (cell: number) => {
    const face = now()
    if (!face || cell < 0 || cell >= face.tablets * face.picks) return
    chosen = cell
    draw()
    say()
    const side = sideOf(face)
    const [x, y] = [(cell % face.tablets) * side, (face.picks - 1 - Math.floor(cell / face.tablets)) * side]
    if (y < box.scrollTop || y + side > box.scrollTop + box.clientHeight) box.scrollTop = y - box.clientHeight / 2
    if (x < box.scrollLeft || x + side > box.scrollLeft + box.clientWidth) box.scrollLeft = x - box.clientWidth / 2
  }
  box.addEventListener('focus', say)
  box.addEventListener('keydown', (event) => {
    const face = now()
    if (!face || event.ctrlKey || event.altKey || event.metaKey) return
    const step = { ArrowLeft: -1, ArrowRight: 1, ArrowUp: face.tablets, ArrowDown: -face.tablets }[event.key]
    const key = event.key.toLowerCase()
    if (step !== undefined) {
      const wraps =
        Math.abs(step) === 1 && Math.floor(chosen / face.tablets) !== Math.floor((chosen + step) / face.tablets)
      if (!wraps) goTo(chosen + step)
    } else if (event.key === '.' || event.key === 'Delete') choose(null)
    else if (event.key === 'Backspace') choose(undefined)
    else if (face.hexOf.has(key)) choose(key)
    else if (/^[1-9]$/.test(key) && face.hexOf.size >= Number(key)) choose([...face.hexOf.keys()][Number(key) - 1])
    else return
    event.preventDefault()
  })
  canvas.addEventListener('click', (event) => {
    const face = now()
    if (!face) return
    const at = canvas.getBoundingClientRect()
    const [across, down] = [(event.clientX - at.left) / at.width, (event.clientY - at.top) / at.height]
    const tablet = Math.min(face.tablets - 1, Math.floor(across * face.tablets))
    goTo((face.picks - 1 - Math.min(face.picks - 1, Math.floor(down * face.picks))) * face.tablets + tablet)
    box.focus()
  })
  return { draw, choose }
}

function drawCells(canvas: HTMLCanvasElement, face: FaceNow, side: number, chosen: number): void {
  const density = Math.min(2, devicePixelRatio)
  // No browser draws a canvas much longer than this.
  const scale = Math.min(density, 16_000 / (face.picks * side))
  canvas.width = Math.max(1, Math.round(face.tablets * side * scale))
  canvas.height = Math.max(1, Math.round(face.picks * side * scale))
  canvas.style.width = `${face.tablets * side}px`
  canvas.style.height = `${face.picks * side}px`
  const context = canvas.getContext('2d')
  if (!context) return
  context.scale(scale, scale)
  const style = getComputedStyle(canvas)
  const [ink, paper] = [style.color, style.backgroundColor]
  context.fillStyle = paper
  context.fillRect(0, 0, face.tablets * side, face.picks * side)
  face.cells.forEach((row, pick) =>
    row.forEach((key, tablet) => {
      const [x, y] = [tablet * side, (face.picks - 1 - pick) * side]
      if (key === null) {
        context.strokeStyle = ink
        context.lineWidth = 1
        context.beginPath()
        context.moveTo(x + side / 2, y + 2)
        context.lineTo(x + side / 2, y + side - 2)
        context.stroke()
      } else {
        context.fillStyle = face.hexOf.get(key) ?? paper
        context.fillRect(x + 1, y, side - 2, side + 0.5)
      }
      if (!face.corrected.has(pick * face.tablets + tablet)) return
      // The notch: paper with an inked edge, to be seen on any colour.
      context.beginPath()
      context.moveTo(x + side - 1, y)
      context.lineTo(x + side - 1, y + side * 0.45)
      context.lineTo(x + side * 0.55, y)
      context.closePath()
      context.fillStyle = paper
      context.fill()
      context.strokeStyle = ink
      context.stroke()
    }),
  )
  const [x, y] = [(chosen % face.tablets) * side, (face.picks - 1 - Math.floor(chosen / face.tablets)) * side]
  for (const [colour, width] of [
    [paper, 4],
    [ink, 2],
  ] as const) {
    context.strokeStyle = colour
    context.lineWidth = width
    context.strokeRect(x + 1, y + 1, side - 2, side - 2)
  }
}
