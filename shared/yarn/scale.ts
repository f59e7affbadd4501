import { requireFinite, requirePositive, requireWhole } from '../measure/argument.ts'

/**
 * The warp thread that would bring a band to another width with the same tablets: width goes with the diameter of the
 * thread, and linear density with the square of the diameter. The fibre, its packing and the draft stay as they are.
 * @param tex linear density of the thread that was woven, in tex, more than zero
 * @param wovenWidthMm the width it gave, more than zero
 * @param wantedWidthMm the width wanted, the original's, more than zero
 * @returns tex, unrounded
 * @throws RangeError when an argument is not above zero
 * @example texForWidth(100, 20, 13) // 42.25: a band of 13 mm in place of 20 wants a thread of less than half the tex
 * Source: geometry, d = sqrt(4 T / (pi rho)); that width follows the diameter alone is our own simplification.
 */
export function texForWidth(tex: number, wovenWidthMm: number, wantedWidthMm: number): number {
  requirePositive('tex', tex)
  const share = requirePositive('wantedWidthMm', wantedWidthMm) / requirePositive('wovenWidthMm', wovenWidthMm)
  return requireFinite('the tex for that width', tex * share * share)
}

/**
 * Tablets per cm of a band.
 * @param tablets how many, a whole number of 1 or more, the edges counted in
 * @param widthMm width of the same stretch, more than zero
 * @returns tablets per cm, unrounded
 * @throws RangeError when an argument is out of range
 * @example tabletsPerCm(21, 30) // 7
 */
export function tabletsPerCm(tablets: number, widthMm: number): number {
  return requireFinite(
    'tablets per cm',
    (requireWhole('tablets', tablets, 1) * 10) / requirePositive('widthMm', widthMm),
  )
}

/**
 * Tablets per cm to expect when the warp is woven in another thread of the same fibre and spin: the cords grow with the
 * diameter, that is with the root of the linear density.
 * @param presentPerCm tablets per cm that were reached, more than zero
 * @param presentTex the thread that reached them, in tex, more than zero
 * @param newTex the other thread, in tex, more than zero
 * @returns tablets per cm, unrounded
 * @throws RangeError when an argument is not above zero
 * @example predictedTabletsPerCm(10.5, 100, 42.25) // 16.15
 * Source: geometry, as `texForWidth`.
 */
export function predictedTabletsPerCm(presentPerCm: number, presentTex: number, newTex: number): number {
  requirePositive('presentPerCm', presentPerCm)
  const share = requirePositive('presentTex', presentTex) / requirePositive('newTex', newTex)
  return requireFinite('the predicted tablets per cm', presentPerCm * Math.sqrt(share))
}

/**
 * Width of a cord over the diameter of its thread: what `k` is taken to be until the maker's own pieces say better. Two
 * threads of the shed lie side by side, and those that cross between the picks push them a little apart.
 * Source: our own, none in print was found; how far it may lie off is our judgement.
 */
export const CORD_PRIOR = { k: 2.2, low: 1.8, high: 2.6 } as const

/**
 * Width of one cord: k times the diameter of its thread.
 * @param diameterMm of the warp thread, more than zero
 * @param k width of a cord over the diameter, more than zero
 * @returns mm, unrounded; times the tablets it is the width of the band
 * @throws RangeError when an argument is not above zero
 * @example cordWidthMm(0.4, 2.2) // 0.88, so 11.4 tablets per cm
 * Source: our own model: cords lie side by side and touch, and keep their shape from yarn to yarn.
 */
export function cordWidthMm(diameterMm: number, k: number): number {
  return requireFinite('the width of a cord', requirePositive('diameterMm', diameterMm) * requirePositive('k', k))
}

/**
 * Diameter of the thread that makes cords of a width; the inverse of `cordWidthMm`.
 * @param widthMm of one cord, more than zero
 * @param k width of a cord over the diameter, more than zero
 * @returns mm, unrounded
 * @throws RangeError when an argument is not above zero
 * @example diameterForCord(0.88, 2.2) // 0.4
 */
export function diameterForCord(widthMm: number, k: number): number {
  return requireFinite('the diameter', requirePositive('widthMm', widthMm) / requirePositive('k', k))
}
