import type { ObservedSlant } from '../draft/infer/observed.ts'
import type { BandMap } from './band-map.ts'
import { type Pixels, readLight } from './sample.ts'

export interface CellSlants {
  /** `[pick * tablets + tablet]`; null where the picture does not say. */
  readonly slants: readonly (ObservedSlant | null)[]
  /** From 0 (no lean) to 1 (every edge in the cell leans one way). */
  readonly lean: Float64Array
}

/** Points across and along a cell; a little beyond it, for its edges are where the lean is seen. */
const SIDE = 9
const REACH = 0.55

/**
 * Which way each stitch leans, by the structure tensor of its cell: the edges between threads run along the stitch, so
 * the steps of lightness across and along the band go together one way for "/" and the other way for "\".
 * @param least the least lean taken for legible, 0 to 1
 * @throws RangeError when least is out of range
 * @example slantsOf(pixels, bandMap(marks), 21, 72, 0.25).slants[0] // '/'
 * Source: the structure tensor of Förstner and Gülch, of which only the mixed term is asked for its sign.
 */
export function slantsOf(pixels: Pixels, map: BandMap, tablets: number, picks: number, least: number): CellSlants {
  if (!(least >= 0 && least <= 1)) throw new RangeError(`least must be from 0 to 1, not ${least}`)
  const lean = new Float64Array(tablets * picks)
  const slants: (ObservedSlant | null)[] = []
  const light = new Float64Array(SIDE * SIDE)
  const point = new Float64Array(4)
  for (let pick = 0, cell = 0; pick < picks; pick++) {
    for (let tablet = 0; tablet < tablets; tablet++, cell++) {
      for (let i = 0; i < SIDE * SIDE; i++) {
        const across = (((i % SIDE) / (SIDE - 1)) * 2 - 1) * REACH
        const along = ((Math.floor(i / SIDE) / (SIDE - 1)) * 2 - 1) * REACH
        const place = map.toPicture((tablet + 0.5 + across) / tablets, (pick + 0.5 + along) / picks)
        readLight(pixels, place.x, place.y, point)
        light[i] = Math.cbrt(point[3]!)
      }
      const mixed = mixedTerm(light)
      lean[cell] = Math.abs(mixed)
      slants.push(Math.abs(mixed) >= least && mixed !== 0 ? (mixed < 0 ? '/' : '\\') : null)
    }
  }
  return { slants, lean }
}

/** From -1 (all edges like "/") to 1 (all like "\"); 0 where a point lies outside the picture. */
function mixedTerm(light: Float64Array): number {
  let [mixed, all] = [0, 0]
  for (let row = 1; row < SIDE - 1; row++) {
    for (let column = 1; column < SIDE - 1; column++) {
      const at = row * SIDE + column
      const across = light[at + 1]! - light[at - 1]!
      const along = light[at + SIDE]! - light[at - SIDE]!
      const [x, y] = [column / (SIDE - 1) - 0.5, row / (SIDE - 1) - 0.5]
      const weight = Math.exp(-4 * (x * x + y * y))
      mixed += weight * 2 * across * along
      all += weight * (across * across + along * along)
    }
  }
  return all > 1e-9 ? mixed / all : 0
}
