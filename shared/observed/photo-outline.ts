import { bandMap, type BandMarks } from './band-map.ts'
import { lengthsInPicture, type Point } from './homography.ts'

/** Lines over a photograph, in pixels of the picture that was marked. */
export interface PhotoOutline {
  /** Path of the edge of the stretch that was read. */
  readonly stretch: string
  /** Path with one closed figure for each cell. */
  readonly cells: string
  /** Mean of the shorter side of a cell, in pixels. */
  readonly cellPx: number
}

/** How far an outline stands outside its cell, in cells: the cloth in it stays free to be looked at. */
const OUTSIDE = 0.08
/** Straight pieces of each side of the stretch: enough for every bend that can be marked. */
const PIECES = 24

/**
 * Where a stretch and some of its cells lie on the photograph that they were read off.
 * @param marks as they were put on the photograph
 * @param cells counted from 1; those outside the marks are left out
 * @throws RangeError when the marks make no map
 * @example photoOutline(marks, [{ pick: 3, tablet: 1 }]).cells // 'M10.2 40.1L14.8 40.1L14.8 33.9L10.2 33.9z'
 * Source: our own; the map is that by which the cells were read.
 */
export function photoOutline(
  marks: BandMarks,
  cells: readonly { readonly pick: number; readonly tablet: number }[],
): PhotoOutline {
  const { tablets, picks } = marks
  const { toPicture } = bandMap(marks)
  const { width, length } = lengthsInPicture(marks.corners)
  const outline = ({ pick, tablet }: { pick: number; tablet: number }) => {
    const [left, right] = [(tablet - 1 - OUTSIDE) / tablets, (tablet + OUTSIDE) / tablets]
    const [from, to] = [(pick - 1 - OUTSIDE) / picks, (pick + OUTSIDE) / picks]
    return closed([toPicture(left, from), toPicture(right, from), toPicture(right, to), toPicture(left, to)])
  }
  const steps = Array.from({ length: PIECES }, (_, step) => step / PIECES)
  const edge = [
    ...steps.map((at) => toPicture(at, 0)),
    ...steps.map((at) => toPicture(1, at)),
    ...steps.map((at) => toPicture(1 - at, 1)),
    ...steps.map((at) => toPicture(0, 1 - at)),
  ]
  const inside = cells.filter(({ pick, tablet }) => pick >= 1 && pick <= picks && tablet >= 1 && tablet <= tablets)
  return {
    stretch: closed(edge),
    cells: inside.map(outline).join(''),
    cellPx: Math.min(width / tablets, length / picks),
  }
}

const closed = (points: readonly Point[]) => `M${points.map(({ x, y }) => `${short(x)} ${short(y)}`).join('L')}z`
const short = (value: number) => String(Math.round(value * 10) / 10)
