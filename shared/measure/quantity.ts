import { requireNotNegative, requirePositive, requireWhole } from './argument.ts'
import type { UncertaintyPart } from './effective-df.ts'
import { summariseReadings } from './reading-summary.ts'

/**
 * One side of a comparison: readings of it, or a value that somebody states. `resolution` is a full width; `u` is a
 * standard uncertainty (0 says that the value is exact, as a count of tablets is); `n` is how many readings stand
 * behind a stated value.
 */
export type Quantity =
  | { readonly readings: readonly number[]; readonly resolution?: number | undefined }
  | { readonly value: number; readonly u?: number | undefined; readonly n?: number | undefined }

/** What is known of one side. */
export interface KnownQuantity {
  readonly mean: number
  /** Standard uncertainty; null when none can be stated. */
  readonly u: number | null
  /** How many readings; null when nobody says. */
  readonly n: number | null
  readonly parts: readonly UncertaintyPart[]
  /** Scatter of single readings, where there are at least two. */
  readonly s: number | null
  /** Several readings, all alike, and no resolution given: their u of 0 is the ruler's doing, not the cloth's. */
  readonly isAlike: boolean
  /** A value that somebody states, not readings. */
  readonly isStated: boolean
}

/**
 * Mean and uncertainty of one side of a comparison.
 * A stated u has infinite degrees of freedom, or n - 1 when it comes with n of 2 or more.
 * @param name what the side is called in messages
 * @param quantity readings, or a stated value
 * @returns what is known of it
 * @throws RangeError naming the argument when a reading is negative, the mean or value is not above zero, u or resolution
 *   is negative, n is not a whole number of 1 or more, or anything is not finite
 * @example knownQuantity('original', { value: 13, u: 0.2, n: 10 }).parts // [{ u: 0.2, df: 9 }]
 * @example knownQuantity('replica', { readings: [20] }).u // null
 */
export function knownQuantity(name: string, quantity: Quantity): KnownQuantity {
  if ('readings' in quantity) {
    const { readings, resolution } = quantity
    if (readings.length === 0) throw new RangeError(`${name}.readings must hold at least one reading, not 0`)
    for (const [index, reading] of readings.entries()) requireNotNegative(`${name}.readings[${index}]`, reading)
    if (resolution !== undefined) requireNotNegative(`${name}.resolution`, resolution)
    const { mean, u, n, s, parts } = summariseReadings({ values: readings, resolution })
    const isAlike = n > 1 && resolution === undefined && readings.every((reading) => reading === readings[0])
    requirePositive(`the mean of ${name}.readings`, mean)
    return { mean, u, n, parts, s, isAlike, isStated: false }
  }
  const { value, u, n } = quantity
  requirePositive(`${name}.value`, value)
  if (n !== undefined) requireWhole(`${name}.n`, n, 1)
  const nothing = { mean: value, n: n ?? null, s: null, isAlike: false, isStated: true }
  if (u === undefined) return { ...nothing, u: null, parts: [] }
  requireNotNegative(`${name}.u`, u)
  return { ...nothing, u, parts: [{ u, df: n !== undefined && n > 1 ? n - 1 : Infinity }] }
}
