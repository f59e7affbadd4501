import type { BandMap, BandMarks } from '../../../shared/observed/band-map.ts'
import type { Point } from '../../../shared/observed/homography.ts'

/** Steps in which a bent line is drawn. */
const STEPS = 24
/** Lines closer than this on the screen would hide the picture. */
const LEAST_GAP = 4

/** Draws the grid of tablets and picks over the photograph: a dark line with a light one on it is seen on any colour. */
export function drawGrid(
  grid: HTMLCanvasElement,
  picture: HTMLCanvasElement,
  marks: BandMarks | undefined,
  map: BandMap | undefined,
  bars: readonly (readonly [Point, Point])[],
): void {
  const box = picture.getBoundingClientRect()
  const density = Math.min(2, devicePixelRatio)
  grid.width = Math.max(1, Math.round(box.width * density))
  grid.height = Math.max(1, Math.round(box.height * density))
  const context = grid.getContext('2d')
  if (!context) return
  const scale = grid.width / picture.width
  const line = (points: readonly Point[], width: number) => {
    context.beginPath()
    points.forEach(({ x, y }, at) =>
      at === 0 ? context.moveTo(x * scale, y * scale) : context.lineTo(x * scale, y * scale),
    )
    for (const [colour, extra] of [
      ['rgb(0 0 0 / 0.75)', 1.5],
      ['rgb(255 255 255 / 0.9)', 0],
    ] as const) {
      context.strokeStyle = colour
      context.lineWidth = (width + extra) * density
      context.stroke()
    }
  }
  for (const bar of bars) line(bar, 1.5)
  if (!marks || !map) return
  const along = (u: number) => Array.from({ length: STEPS + 1 }, (_, at) => map.toPicture(u, at / STEPS))
  const across = (v: number) => Array.from({ length: 7 }, (_, at) => map.toPicture(at / 6, v))
  const gap = (a: Point, b: Point) => (Math.hypot(a.x - b.x, a.y - b.y) * scale) / density
  if (gap(map.toPicture(0, 0.5), map.toPicture(1 / marks.tablets, 0.5)) > LEAST_GAP)
    for (let tablet = 1; tablet < marks.tablets; tablet++) line(along(tablet / marks.tablets), 0.35)
  if (gap(map.toPicture(0.5, 0), map.toPicture(0.5, 1 / marks.picks)) > LEAST_GAP)
    for (let pick = 1; pick < marks.picks; pick++) line(across(pick / marks.picks), 0.35)
  for (const u of [0, 1]) line(along(u), 1.6)
  for (const v of [0, 1]) line(across(v), 1.6)
}

/** What lies under a handle, four times as large, in the corner away from it. */
export function drawLoupe(loupe: HTMLCanvasElement, picture: HTMLCanvasElement, at: Point | undefined): void {
  loupe.hidden = at === undefined
  const context = loupe.getContext('2d')
  if (at === undefined || !context) return
  const { width } = loupe
  const shown = Math.max(24, Math.min(picture.width, picture.height) / 16)
  context.fillStyle = '#777'
  context.fillRect(0, 0, width, width)
  context.imageSmoothingEnabled = shown > width / 4
  context.drawImage(picture, at.x - shown / 2, at.y - shown / 2, shown, shown, 0, 0, width, width)
  for (const [colour, line] of [
    ['#000', 3],
    ['#fff', 1],
  ] as const) {
    context.strokeStyle = colour
    context.lineWidth = line
    context.beginPath()
    context.moveTo(width / 2, width / 2 - 20)
    context.lineTo(width / 2, width / 2 + 20)
    context.moveTo(width / 2 - 20, width / 2)
    context.lineTo(width / 2 + 20, width / 2)
    context.stroke()
  }
  loupe.classList.toggle('is-right', at.x < picture.width / 2)
  loupe.classList.toggle('is-low', at.y < picture.height / 2)
}
