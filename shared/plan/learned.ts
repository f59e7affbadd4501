import { sumOf } from '../measure/univariate.ts'

/** What several pieces taught: their mean, and how far they lie apart. */
export interface Learned {
  readonly mean: number
  /** Standard deviation of one piece; null while there is only one. */
  readonly s: number | null
  readonly n: number
}

/**
 * Mean and spread of what was measured on finished pieces.
 * @param values one a piece, finite
 * @returns null when there is none; s with n - 1 in its denominator
 * @throws RangeError when a value is not finite
 * @example learn([1.1, 1.2]) // { mean: 1.15, s: 0.0707, n: 2 }
 * Source: JCGM 100:2008, 4.2.
 */
export function learn(values: readonly number[]): Learned | null {
  const n = values.length
  if (n === 0) return null
  const mean = sumOf(values) / n
  const s = n === 1 ? null : Math.sqrt(sumOf(values.map((value) => (value - mean) ** 2)) / (n - 1))
  return { mean, s, n }
}
