import { requireFinite, requireWhole } from '../measure/argument.ts'
import { type Corners, homographyOf, inverseOf, lengthsInPicture, type Point, project } from './homography.ts'

/** How far a handle of the mid-line was moved: across in widths of the band, along in lengths of the stretch. */
export interface Shift {
  readonly across: number
  readonly along: number
}

/** Three handles stand on the mid-line at a quarter, a half and three quarters of the picks. */
export const HANDLES_AT = [0.25, 0.5, 0.75] as const
export type Bend = readonly [Shift, Shift, Shift]
export const STRAIGHT: Bend = [0, 0, 0].map(() => ({ across: 0, along: 0 })) as unknown as Bend

/** What a person marks on a photograph: where the stretch lies, how it bends, and what it is divided into. */
export interface BandMarks {
  readonly corners: Corners
  readonly bend: Bend
  readonly tablets: number
  readonly picks: number
}

/** From the band to the picture: u from 0 (left edge of tablet 1) to 1, v from 0 (start of pick 1) to 1. */
export interface BandMap {
  readonly toPicture: (u: number, v: number) => Point
  /** Length of the stretch in widths of the band, by the sides in the picture. */
  readonly lengthInWidths: number
}

/**
 * Lays the grid of a band on a picture. In the plane of the four corners the mid-line is the quartic through both
 * ends and the three handles; picks are evenly spaced but for what the handles were moved along, between them by a
 * quartic too. Each pick lies square to the mid-line, as far as the two ends do not say otherwise: a bow, whose ends
 * lean towards each other, has its lean from the corners, and a wave, whose ends are parallel, from the mid-line.
 * @throws RangeError when corners are no four-sided figure, tablets or picks are not whole numbers above 0, or handles
 *   were moved past each other
 * @example bandMap({ corners, bend: STRAIGHT, tablets: 9, picks: 20 }).toPicture(0.5, 0) // the middle of the start
 * Source: our own.
 */
export function bandMap({ corners, bend, tablets, picks }: BandMarks): BandMap {
  requireWhole('tablets', tablets, 1)
  requireWhole('picks', picks, 1)
  const homography = homographyOf(corners)
  const { length, width } = lengthsInPicture(corners)
  const lengthInWidths = length / width
  const across = quarticThrough(bend.map((shift) => requireFinite('across', shift.across)))
  const along = quarticThrough(bend.map((shift) => requireFinite('along', shift.along)))
  for (let step = 0; step <= 32; step++) {
    if (1 + along.slope(step / 32) <= 0.05) throw new RangeError('bend must leave the handles in order along the band')
  }
  const [atStart, atEnd] = [across.slope(0), across.slope(1)]
  const square = 1 / lengthInWidths ** 2
  const toPicture = (u: number, v: number) => {
    const lean = across.slope(v) - (1 - v) * atStart - v * atEnd
    return project(homography, u + across.at(v), v + along.at(v) - (u - 0.5) * lean * square)
  }
  return { toPicture, lengthInWidths }
}

/**
 * Where a handle of the mid-line was moved when it is put to a place in the picture.
 * @param handle 0, 1 or 2
 * @returns the shift to keep in `bend`
 * @throws RangeError when corners are no four-sided figure
 * @example shiftTo(corners, 1, bandMap({ corners, bend: STRAIGHT, … }).toPicture(0.5, 0.5)) // { across: 0, along: 0 }
 */
export function shiftTo(corners: Corners, handle: 0 | 1 | 2, place: Point): Shift {
  const { x, y } = project(inverseOf(homographyOf(corners)), place.x, place.y)
  return { across: x - 0.5, along: y - HANDLES_AT[handle] }
}

/** The polynomial of fourth degree that is zero at 0 and 1 and has these values at the handles. */
function quarticThrough(values: readonly number[]): { at: (v: number) => number; slope: (v: number) => number } {
  // Divided by v (1 - v) it is a parabola through three points, whose coefficients follow from its differences.
  const [a, b, c] = values.map((value, i) => value / (HANDLES_AT[i]! * (1 - HANDLES_AT[i]!))) as [
    number,
    number,
    number,
  ]
  const c2 = 8 * (a - 2 * b + c)
  const c1 = 4 * (b - a) - 0.75 * c2
  const c0 = a - 0.25 * c1 - 0.0625 * c2
  return {
    at: (v) => v * (1 - v) * (c0 + c1 * v + c2 * v * v),
    slope: (v) => (1 - 2 * v) * (c0 + c1 * v + c2 * v * v) + v * (1 - v) * (c1 + 2 * c2 * v),
  }
}
