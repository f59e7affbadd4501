import { requireFinite } from './argument.ts'

/**
 * Sum with Neumaier's compensation: the digits that each addition drops are kept in a second number and added at the end.
 * @param values finite numbers, in any order; none gives 0
 * @returns the sum, as a rule correct to the last bit
 * @throws RangeError when a value is not finite, or the sum is too large for a number
 * @example sumOf([1, 1e100, 1, -1e100]) // 2, where plain addition gives 0
 * Source: A. Neumaier, ZAMM 54 (1974) 39-51.
 */
export function sumOf(values: readonly number[]): number {
  let sum = 0
  let dropped = 0
  for (const [index, value] of values.entries()) {
    requireFinite(`values[${index}]`, value)
    const next = sum + value
    dropped += Math.abs(sum) >= Math.abs(value) ? sum - next + value : value - next + sum
    sum = next
  }
  return requireFinite('the sum of values', sum + dropped)
}

/**
 * Arithmetic mean.
 * @param values one or more finite numbers of one unit
 * @returns the mean in that unit, unrounded
 * @throws RangeError when there is none, or one is not finite
 * @example meanOf([13, 13.5]) // 13.25; meanOf([]) throws
 * Source: JCGM 100:2008, 4.2.1.
 */
export function meanOf(values: readonly number[]): number {
  if (values.length === 0) throw new RangeError('values must hold at least one number, not 0')
  const first = sumOf(values) / values.length
  // The division rounds; one more pass over what is left takes that back.
  return first + sumOf(values.map((value) => value - first)) / values.length
}

/**
 * Experimental standard deviation s, with n - 1 in the denominator: the scatter of single readings.
 * Two passes, centred on the mean first, because the one-pass formula loses every digit when the scatter is small
 * beside the mean.
 * @param values finite numbers of one unit
 * @returns s in that unit, unrounded; undefined for a single value, whose scatter nobody can know
 * @throws RangeError when there is no value, or one is not finite
 * @example standardDeviationOf([2, 4, 4, 4, 5, 5, 7, 9]) // 2.138...; standardDeviationOf([13]) // undefined
 * Source: JCGM 100:2008, 4.2.2; the correction for a rounded mean: Chan, Golub, LeVeque, Am. Stat. 37 (1983) 242-247.
 */
export function standardDeviationOf(values: readonly number[]): number | undefined {
  const mean = meanOf(values)
  const n = values.length
  if (n === 1) return undefined
  const deviations = values.map((value) => value - mean)
  const left = sumOf(deviations)
  const squares = sumOf(deviations.map((deviation) => deviation * deviation))
  return Math.sqrt(Math.max(0, squares - (left * left) / n) / (n - 1))
}

/**
 * Type A standard uncertainty of a mean: s / sqrt(n), the experimental standard deviation of the mean.
 * @param values finite numbers of one unit, independent readings of the same thing
 * @returns u in that unit, unrounded; undefined for a single value
 * @throws RangeError when there is no value, or one is not finite
 * @example standardUncertaintyOfMean([12, 14]) // 1; standardUncertaintyOfMean([13]) // undefined
 * Source: JCGM 100:2008, 4.2.3.
 */
export function standardUncertaintyOfMean(values: readonly number[]): number | undefined {
  const s = standardDeviationOf(values)
  return s === undefined ? undefined : s / Math.sqrt(values.length)
}
