import { toLinear } from '../colour/hex.ts'
import type { BandMap } from './band-map.ts'

/** A picture as a canvas gives it: four bytes a pixel (red, green, blue, opacity), row by row from the top. */
export interface Pixels {
  readonly width: number
  readonly height: number
  readonly data: Uint8ClampedArray
}

/** The colour of every cell, `[pick * tablets + tablet]`, both counted from 0. */
export interface CellSamples {
  readonly tablets: number
  readonly picks: number
  /** Red, green and blue of each cell, linear light from 0 to 1; three numbers a cell. NaN outside the picture. */
  readonly light: Float64Array
  /** How mixed the inner part of each cell is: the middle half of its lightness, in units of CIELAB L. */
  readonly spread: Float64Array
}

const LINEAR = Float64Array.from({ length: 256 }, (_, byte) => toLinear(byte / 255))

// Where in a cell the pure colour is. A stitch that leans like "/" leaves its lower right and upper left corner to its
// neighbours, one like "\" the other two: what belongs to the stitch either way is a lozenge about the middle. Its reach
// is a little less than that, because a photograph is never quite sharp.
const REACH_ACROSS = 0.26
const REACH_ALONG = 0.36
const STEPS = 4
const LOZENGE: readonly (readonly [number, number])[] = Array.from({ length: (2 * STEPS + 1) ** 2 }, (_, at) => {
  const across = (at % (2 * STEPS + 1)) / STEPS - 1
  const along = Math.floor(at / (2 * STEPS + 1)) / STEPS - 1
  return [across, along] as const
})
  .filter(([across, along]) => Math.abs(across) + Math.abs(along) <= 1)
  .map(([across, along]) => [across * REACH_ACROSS, along * REACH_ALONG] as const)

/**
 * Takes the colour of every cell from the picture: light, not bytes, is averaged, over the inner lozenge of the cell,
 * and the brightest and darkest quarters are left out (a gleam, a seam, a hair).
 * @param pixels the picture in which the band was marked
 * @returns colours and spreads; a cell that does not lie in the picture with its whole lozenge has NaN
 * @throws RangeError when the data does not fit the size of the picture
 * @example sampleCells(pixels, bandMap(marks), 21, 72).light.length // 4536
 * Source: our own.
 */
export function sampleCells(pixels: Pixels, map: BandMap, tablets: number, picks: number): CellSamples {
  if (pixels.data.length !== pixels.width * pixels.height * 4) {
    throw new RangeError(
      `pixels.data must hold ${pixels.width} x ${pixels.height} x 4 bytes, not ${pixels.data.length}`,
    )
  }
  const light = new Float64Array(tablets * picks * 3)
  const spread = new Float64Array(tablets * picks)
  const points = Array.from({ length: LOZENGE.length }, () => new Float64Array(4))
  for (let pick = 0, cell = 0; pick < picks; pick++) {
    for (let tablet = 0; tablet < tablets; tablet++, cell++) {
      LOZENGE.forEach(([across, along], at) => {
        const place = map.toPicture((tablet + 0.5 + across) / tablets, (pick + 0.5 + along) / picks)
        readLight(pixels, place.x, place.y, points[at]!)
      })
      summarise(points, light, spread, cell)
    }
  }
  return { tablets, picks, light, spread }
}

/** Linear red, green, blue and luminance between four pixels; the middle of pixel 0 lies at 0.5. */
export function readLight({ width, height, data }: Pixels, x: number, y: number, into: Float64Array): void {
  const [left, top] = [Math.floor(x - 0.5), Math.floor(y - 0.5)]
  if (!(left >= 0 && top >= 0 && left + 1 < width && top + 1 < height)) return void into.fill(Number.NaN)
  const [right, low] = [x - 0.5 - left, y - 0.5 - top]
  const at = (top * width + left) * 4
  for (let channel = 0; channel < 3; channel++) {
    const i = at + channel
    const above = LINEAR[data[i]!]! * (1 - right) + LINEAR[data[i + 4]!]! * right
    const below = LINEAR[data[i + width * 4]!]! * (1 - right) + LINEAR[data[i + width * 4 + 4]!]! * right
    into[channel] = above * (1 - low) + below * low
  }
  into[3] = 0.2126 * into[0]! + 0.7152 * into[1]! + 0.0722 * into[2]!
}

function summarise(points: Float64Array[], light: Float64Array, spread: Float64Array, cell: number): void {
  points.sort((a, b) => a[3]! - b[3]!)
  const [from, to] = [Math.floor(points.length / 4), Math.ceil((points.length * 3) / 4)]
  for (let channel = 0; channel < 3; channel++) {
    let sum = 0
    // One point outside the picture makes the sum NaN, wherever the sorting has put it.
    for (let at = 0; at < points.length; at++)
      sum += at >= from && at < to ? points[at]![channel]! : points[at]![channel]! * 0
    light[cell * 3 + channel] = sum / (to - from)
  }
  spread[cell] = lightness(points[to - 1]![3]!) - lightness(points[from]![3]!)
}

/** CIELAB L of a luminance. Source: ISO/CIE 11664-4. */
function lightness(luminance: number): number {
  return luminance > 216 / 24389 ? 116 * Math.cbrt(luminance) - 16 : (24389 / 27) * luminance
}
