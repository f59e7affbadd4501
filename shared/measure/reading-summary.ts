import { requireNotNegative, requirePositive } from './argument.ts'
import { combinedUncertainty, effectiveDf, type UncertaintyPart } from './effective-df.ts'
import { meanOf, standardDeviationOf } from './univariate.ts'

/** What a set of readings says, in the unit of the readings. */
export interface ReadingSummary {
  readonly n: number
  readonly mean: number
  /** Experimental standard deviation, the scatter of single readings; null for one reading. */
  readonly s: number | null
  /** Type A standard uncertainty of the mean, s / sqrt(n); null for one reading. */
  readonly uA: number | null
  /** Type B standard uncertainty from the resolution; null when no resolution was given. */
  readonly uB: number | null
  /** The two in quadrature; null when there is neither. */
  readonly u: number | null
  /** Degrees of freedom of u, by Welch-Satterthwaite; Infinity when only the resolution counts; null without u. */
  readonly df: number | null
  /** The same, part by part, for carrying into a further result. */
  readonly parts: readonly UncertaintyPart[]
}

/**
 * Mean and standard uncertainty of readings of one thing.
 * The resolution is taken as common to all readings (one ruler), so it is not divided by sqrt(n): our own choice, on the
 * safe side.
 * @param values one or more readings, in one unit
 * @param resolution smallest step that can be told apart, as a full width in the same unit: 1 for a ruler read to the
 *   nearest millimetre; left out when unknown, 0 for none
 * @returns the summary; a single reading has no type A part, so that u is the resolution's alone, or null without one
 * @throws RangeError when there is no reading, one is not finite, or the resolution is negative
 * @example summariseReadings({ values: [12, 14] }).u // 1, df 1
 * @example summariseReadings({ values: [13], resolution: 1 }).u // 0.2887, df Infinity
 * @example summariseReadings({ values: [13] }).u // null: one reading says nothing about itself
 * Source: JCGM 100:2008, 4.2 (type A), 4.3.7 and F.2.2.1 (resolution / sqrt 12), 5.1.2, G.4.1.
 */
export function summariseReadings(given: {
  readonly values: readonly number[]
  readonly resolution?: number | undefined
}): ReadingSummary {
  const { values, resolution } = given
  const mean = meanOf(values)
  const n = values.length
  const s = standardDeviationOf(values) ?? null
  const uA = s === null ? null : s / Math.sqrt(n)
  const uB = resolution === undefined ? null : requireNotNegative('resolution', resolution) / Math.sqrt(12)
  const parts: UncertaintyPart[] = []
  if (uA !== null) parts.push({ u: uA, df: n - 1 })
  if (uB !== null) parts.push({ u: uB, df: Infinity })
  const hasU = parts.length > 0
  return {
    n,
    mean,
    s,
    uA,
    uB,
    u: hasU ? combinedUncertainty(parts) : null,
    df: hasU ? effectiveDf(parts) : null,
    parts,
  }
}

/**
 * The resolution that densities counted over a length have together, as a full width in per cm, fit for
 * `summariseReadings`. For each reading the relative resolutions of count and length are joined in quadrature (a density is
 * a quotient); the mean of the readings is taken, because one ruler and one way of counting serve them all.
 * @param counted count and length in mm of each reading
 * @param lengthResolutionMm smallest step of the ruler, full width in mm, zero or more
 * @param countResolution smallest step of the count, full width; one pick unless half picks were told apart
 * @returns the resolution in per cm, unrounded
 * @throws RangeError when there is no reading, a count or length is not above zero, or a resolution is negative
 * @example resolutionOfDensity([{ count: 72, lengthMm: 90 }], 1) // 8 x sqrt((1/72)^2 + (1/90)^2) = 0.1423
 * Source: JCGM 100:2008, 5.1.6 equation 12; that the resolution is common to all readings is our own choice.
 */
export function resolutionOfDensity(
  counted: readonly { readonly count: number; readonly lengthMm: number }[],
  lengthResolutionMm: number,
  countResolution = 1,
): number {
  requireNotNegative('lengthResolutionMm', lengthResolutionMm)
  requireNotNegative('countResolution', countResolution)
  return meanOf(
    counted.map(({ count, lengthMm }, index) => {
      requirePositive(`counted[${index}].count`, count)
      requirePositive(`counted[${index}].lengthMm`, lengthMm)
      return ((10 * count) / lengthMm) * Math.hypot(countResolution / count, lengthResolutionMm / lengthMm)
    }),
  )
}
