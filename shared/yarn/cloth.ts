import { requireNotNegative, requirePositive } from '../measure/argument.ts'
import { countOf } from './count.ts'

/** One system of threads in a cloth: how close they lie, how heavy they are, how much longer than the cloth. */
export interface ThreadSystem {
  readonly threadsPerCm: number
  readonly tex: number
  /** Crimp in percent of the cloth's length (ISO 7211-3), zero or more. */
  readonly crimpPercent: number
}

/**
 * Mass of a square metre of woven cloth: threads per metre x tex x (1 + crimp), of every system of threads.
 * @param systems warp and weft, each more than zero in threads and tex
 * @returns g/m², unrounded
 * @throws RangeError when a figure is out of range
 * @example arealMass([{ threadsPerCm: 40, tex: 30, crimpPercent: 10 }, { threadsPerCm: 30, tex: 20, crimpPercent: 10 }]) // 198
 * Source: GATE Textile 2017, question 43, and 2009, question 37.
 */
export function arealMass(systems: readonly ThreadSystem[]): number {
  return systems.reduce((sum, { threadsPerCm, tex, crimpPercent }) => {
    const lengthM = 100 * requirePositive('threadsPerCm', threadsPerCm) * (1 + percentShare(crimpPercent))
    return sum + (lengthM * requirePositive('tex', tex)) / 1000
  }, 0)
}

/**
 * Cover factor after Peirce: threads per inch over the root of the cotton count. 28 is where round threads touch.
 * @param threadsPerCm more than zero
 * @param tex linear density in tex, more than zero
 * @returns threads per inch / sqrt(NeC), unrounded
 * @throws RangeError when an argument is out of range
 * @example coverFactor(28, 20) // 13.0883
 * Source: F. T. Peirce, J. Text. Inst. 28 (1937) T45, as later texts give it.
 */
export function coverFactor(threadsPerCm: number, tex: number): number {
  return (2.54 * requirePositive('threadsPerCm', threadsPerCm)) / Math.sqrt(countOf(tex, 'NeC'))
}

/**
 * Cover factor in SI units: threads per cm x sqrt(tex) / 10, which is 0.9567 times Peirce's.
 * @param threadsPerCm more than zero
 * @param tex linear density in tex, more than zero
 * @returns unrounded
 * @throws RangeError when an argument is out of range
 * @example coverFactorSi(28, 20) // 12.52
 * Source: R. Balasubramanian, Useful Conversion Factors.
 */
export function coverFactorSi(threadsPerCm: number, tex: number): number {
  return (requirePositive('threadsPerCm', threadsPerCm) * Math.sqrt(requirePositive('tex', tex))) / 10
}

/**
 * Threads per inch that lie side by side and touch, for firm yarns: 0.9 x sqrt(yards per pound).
 * @param tex linear density in tex, more than zero
 * @returns threads per inch, unrounded
 * @throws RangeError when tex is out of range
 * @example touchingThreadsPerInch(texOf(3360, 'ydPerLb')) // 52.169, for 8/2 cotton
 * Source: T. R. Ashenhurst's rule, as weaving handbooks give it.
 */
export function touchingThreadsPerInch(tex: number): number {
  return 0.9 * Math.sqrt(countOf(tex, 'ydPerLb'))
}

/**
 * The closest sett of a weave: touching threads x ends of the repeat / (ends + intersections of the repeat).
 * @param touching threads that lie side by side in a unit of length, more than zero
 * @param ends ends of one repeat of the weave, more than zero
 * @param intersections how often an end of the weft changes sides in it, zero or more
 * @returns threads in the same unit, unrounded; about three quarters to four fifths of it is woven in practice
 * @throws RangeError when an argument is out of range
 * @example closestSett(52.169, 2, 2) // 26.08, plain weave; closestSett(52.169, 4, 2) // 34.78, 2/2 twill
 * Source: T. R. Ashenhurst, as weaving handbooks give it.
 */
export function closestSett(touching: number, ends: number, intersections: number): number {
  requirePositive('ends', ends)
  return (requirePositive('touching', touching) * ends) / (ends + requireNotNegative('intersections', intersections))
}

/**
 * Length before a shrinkage that leaves a wanted length: L / (1 - s).
 * @param wantedMm length after, in any unit, zero or more
 * @param shrinkagePercent percent of the length before, from 0 to below 100
 * @returns length before, in the same unit, unrounded
 * @throws RangeError when an argument is out of range
 * @example beforeShrinkage(10, 20) // 12.5: adding 20 % would give 12, which finishes at 9.6
 * Source: the rule as a weavers' conference page works it.
 */
export function beforeShrinkage(wantedMm: number, shrinkagePercent: number): number {
  requireNotNegative('wantedMm', wantedMm)
  if (requireNotNegative('shrinkagePercent', shrinkagePercent) >= 100)
    throw new RangeError(`shrinkagePercent must be below 100, not ${shrinkagePercent}`)
  return wantedMm / (1 - shrinkagePercent / 100)
}

function percentShare(percent: number): number {
  return requireNotNegative('crimpPercent', percent) / 100
}
