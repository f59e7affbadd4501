import { requireNotNegative, requirePositive } from './argument.ts'

/** A value that is known, and how well: `u` is its standard uncertainty, 0 when exact, null when nobody says. */
export interface KnownValue {
  readonly value: number
  readonly u: number | null
  /** Readings behind it; null when nobody says, or when it is exact. */
  readonly n: number | null
}

/**
 * A value worked out from two others: numerator / denominator x factor.
 * @param numerator above zero
 * @param denominator above zero
 * @param factor a constant, above zero: 10 makes tablets per mm tablets per cm
 * @returns the value; its u from the relative uncertainties in quadrature, null when either is null; n of whichever side is
 *   uncertain, the smaller one when both are: as if all the uncertainty came from so few readings, which errs on the wide side
 * @throws RangeError when a value or the factor is not above zero, or u is negative
 * @example quotientOf({ value: 21, u: 0, n: null }, { value: 30, u: 0.3, n: 5 }, 10) // { value: 7, u: 0.07, n: 5 }
 * Source: JCGM 100:2008, 5.1.6, for independent quantities; the choice of n is our own.
 */
export function quotientOf(numerator: KnownValue, denominator: KnownValue, factor = 1): KnownValue {
  requirePositive('factor', factor)
  const value =
    (requirePositive('numerator', numerator.value) / requirePositive('denominator', denominator.value)) * factor
  const counts = [numerator, denominator].filter(({ u, n }) => u !== 0 && n !== null).map(({ n }) => n as number)
  const n = counts.length > 0 ? Math.min(...counts) : null
  if (numerator.u === null || denominator.u === null) return { value, u: null, n }
  const parts = [
    requireNotNegative('numerator.u', numerator.u) / numerator.value,
    requireNotNegative('denominator.u', denominator.u) / denominator.value,
  ]
  return { value, u: value * Math.hypot(...parts), n }
}
