import { requireFinite, requirePositive } from './argument.ts'
import { combinedUncertainty, effectiveDf, type UncertaintyPart } from './effective-df.ts'
import { COVERAGE, studentT } from './student-t.ts'

export interface Estimate {
  readonly mean: number
  /** Standard uncertainties in the unit of the mean; their root sum of squares is the u of the mean. */
  readonly parts: readonly UncertaintyPart[]
}

export interface Ratio {
  readonly ratio: number
  /** Standard uncertainty of the ratio. */
  readonly uRatio: number
  /** Student's t for 95 %; null when uRatio is 0 and there is nothing to multiply. */
  readonly k: number | null
  /** The ratio less and plus k uRatio; the lower end may fall below zero when nearly nothing is known. */
  readonly interval: readonly [number, number]
  /** Effective degrees of freedom; Infinity when no part with finite degrees of freedom counts. */
  readonly df: number
}

/**
 * Ratio of two estimates with its standard uncertainty and 95 % interval. Relative uncertainties join in quadrature.
 * @param over the estimate above the line, mean more than zero
 * @param under the estimate below the line, mean more than zero
 * @param correlation r between the two, -1 to 1; 0 unless the two were read together. Both read with the same tape
 *   is a positive r and a smaller uncertainty. Welch-Satterthwaite holds for independent parts only: with r other than 0 the
 *   smallest degrees of freedom of any part are used instead, our own choice, on the safe side
 * @returns the ratio, unrounded
 * @throws RangeError when a mean is not above zero, a part is out of range, or r is outside -1 to 1
 * @example ratioOf({ mean: 20, parts: [] }, { mean: 13, parts: [] }) // ratio 1.538..., uRatio 0, k null
 * Source: JCGM 100:2008, 5.1.6 equation 12, 5.2.2 equation 16, G.4.1.
 */
export function ratioOf(over: Estimate, under: Estimate, correlation = 0): Ratio {
  requirePositive('over.mean', over.mean)
  requirePositive('under.mean', under.mean)
  if (!(Math.abs(correlation) <= 1)) throw new RangeError(`correlation must be from -1 to 1, not ${correlation}`)
  const ratio = requirePositive('over.mean / under.mean', over.mean / under.mean)
  const [a, b] = [relativeParts(over), relativeParts(under)]
  const parts = [...a, ...b]
  const [uA, uB] = [combinedUncertainty(a), combinedUncertainty(b)]
  const uRelative = correlation === 0 ? combinedUncertainty(parts) : correlated(uA, uB, correlation)
  const uRatio = requireFinite('the uncertainty of the ratio', ratio * uRelative)
  const df =
    correlation === 0 ? effectiveDf(parts) : Math.min(...parts.map((part) => (part.u > 0 ? part.df : Infinity)))
  if (uRatio === 0) return { ratio, uRatio, k: null, interval: [ratio, ratio], df }
  const k = studentT(COVERAGE, df)
  return { ratio, uRatio, k, interval: [ratio - k * uRatio, ratio + k * uRatio], df }
}

function relativeParts({ mean, parts }: Estimate): UncertaintyPart[] {
  return parts.map((part) => ({ u: part.u / mean, df: part.df }))
}

function correlated(uA: number, uB: number, r: number): number {
  // Written as a square plus a rest, so that r = 1 with equal uncertainties gives 0 and not the root of a rounding error.
  return Math.sqrt((uA - uB) ** 2 + 2 * (1 - r) * uA * uB)
}
