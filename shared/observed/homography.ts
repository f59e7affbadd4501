import { requireFinite } from '../measure/argument.ts'

/** A place in a picture, in pixels: x to the right, y downward, 0 0 at the upper left corner. */
export interface Point {
  readonly x: number
  readonly y: number
}

/**
 * The corners of a stretch of band in a picture: start is the end at pick 1, left is the side of tablet 1, both as the
 * weaver sits before the band. A picture may show them any way round.
 */
export interface Corners {
  readonly startLeft: Point
  readonly startRight: Point
  readonly endRight: Point
  readonly endLeft: Point
}

/** Nine numbers, row by row: (x, y, w) = H (u, v, 1), and the place is x / w, y / w. */
export type Homography = readonly number[]

/**
 * The perspective that lays the unit square on four corners: u from 0 (left) to 1 (right), v from 0 (start) to 1 (end).
 * @param corners in pixels, as a four-sided figure without a dent
 * @returns a homography whose last number is 1
 * @throws RangeError when a number is not finite, three corners lie on one line, sides cross, or there is a dent
 * @example homographyOf({ startLeft: {x:0,y:0}, startRight: {x:2,y:0}, endRight: {x:2,y:3}, endLeft: {x:0,y:3} }) // [2,0,0, 0,3,0, 0,0,1]
 * Source: the closed form for the unit square, P. Heckbert, "Fundamentals of Texture Mapping and Image Warping",
 * 1989, section 2.2.3; written from memory and checked against cases worked by hand.
 */
export function homographyOf(corners: Corners): Homography {
  const { startLeft: p0, startRight: p1, endRight: p2, endLeft: p3 } = corners
  requireFourSides(corners)
  const [sx, sy] = [p0.x - p1.x + p2.x - p3.x, p0.y - p1.y + p2.y - p3.y]
  const [dx1, dy1, dx2, dy2] = [p1.x - p2.x, p1.y - p2.y, p3.x - p2.x, p3.y - p2.y]
  const area = dx1 * dy2 - dx2 * dy1
  // Adding zero turns -0 into 0.
  const g = (sx * dy2 - dx2 * sy) / area + 0
  const h = (dx1 * sy - sx * dy1) / area + 0
  return [
    ...[p1.x - p0.x + g * p1.x, p3.x - p0.x + h * p3.x, p0.x],
    ...[p1.y - p0.y + g * p1.y, p3.y - p0.y + h * p3.y, p0.y],
    ...[g, h, 1],
  ]
}

/**
 * Where a point of the unit square lies in the picture.
 * @example project(homographyOf(corners), 0, 0) // corners.startLeft
 */
export function project(h: Homography, u: number, v: number): Point {
  const w = h[6]! * u + h[7]! * v + h[8]!
  return { x: (h[0]! * u + h[1]! * v + h[2]!) / w, y: (h[3]! * u + h[4]! * v + h[5]!) / w }
}

/**
 * The homography that leads back: `project(inverseOf(h), x, y)` is u, v.
 * @throws RangeError when there is none
 * @example project(inverseOf(h), project(h, 0.2, 0.7).x, project(h, 0.2, 0.7).y) // 0.2, 0.7
 */
export function inverseOf(h: Homography): Homography {
  const [a, b, c, d, e, f, g, i, j] = h as [number, number, number, number, number, number, number, number, number]
  const cofactors = [
    ...[e * j - f * i, c * i - b * j, b * f - c * e],
    ...[f * g - d * j, a * j - c * g, c * d - a * f],
    ...[d * i - e * g, b * g - a * i, a * e - b * d],
  ]
  const determinant = a * cofactors[0]! + b * cofactors[3]! + c * cofactors[6]!
  if (!Number.isFinite(1 / determinant)) throw new RangeError('h must have an inverse')
  return cofactors.map((value) => value / determinant)
}

/**
 * Whether the picture shows the band as in a mirror: left and right, "/" and "\" are exchanged.
 * @example isMirroredView(corners) // false when, with pick 1 lowest in the picture, tablet 1 lies left
 */
export function isMirroredView({ startLeft, startRight, endRight }: Corners): boolean {
  return cross(startLeft, startRight, endRight) > 0
}

/**
 * The sides of the four corners in pixels: both long ones, both short ones, and their means.
 * @example lengthsInPicture(corners).length // 864
 */
export function lengthsInPicture({ startLeft, startRight, endRight, endLeft }: Corners): {
  readonly lengths: readonly [number, number]
  readonly widths: readonly [number, number]
  readonly length: number
  readonly width: number
} {
  const far = (a: Point, b: Point) => Math.hypot(a.x - b.x, a.y - b.y)
  const lengths = [far(startLeft, endLeft), far(startRight, endRight)] as const
  const widths = [far(startLeft, startRight), far(endLeft, endRight)] as const
  return { lengths, widths, length: (lengths[0] + lengths[1]) / 2, width: (widths[0] + widths[1]) / 2 }
}

function requireFourSides({ startLeft, startRight, endRight, endLeft }: Corners): void {
  const all = [startLeft, startRight, endRight, endLeft]
  for (const { x, y } of all) {
    requireFinite('corner x', x)
    requireFinite('corner y', y)
  }
  const turns = all.map((corner, at) => Math.sign(cross(corner, all[(at + 1) % 4]!, all[(at + 2) % 4]!)))
  if (turns[0] === 0 || turns.some((turn) => turn !== turns[0])) {
    throw new RangeError('corners must be four corners in order, none of them on a line with two others or inside')
  }
}

/** Twice the area of a triangle, above zero when it is walked round clockwise as the picture is seen. */
function cross(a: Point, b: Point, c: Point): number {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)
}
