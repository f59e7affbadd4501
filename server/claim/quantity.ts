import { labelOf, BLANKS } from '../../shared/measure/claim-word.ts'
import type { Feature } from '../../shared/measure/feature.ts'
import type { Quantity } from '../../shared/measure/quantity.ts'
import { convertUnit, type Unit } from '../../shared/measure/unit.ts'
import { readClaimReadings } from './claim-readings.ts'
import type { Claim } from './queries.ts'

/** A claim as a comparison takes it. */
export interface ClaimQuantity {
  /** In `unit`; undefined when there is nothing to compare. */
  readonly quantity: Quantity | undefined
  /** The base unit of the feature (mm, per cm, one, degree); null for a feature of words. */
  readonly unit: Unit | null
  /** What was made of the claim, or why nothing could be: a sentence for people; empty when it was taken as it stands. */
  readonly note: string
}

/**
 * Turns a claim into what `compareQuantities` of shared/measure/compare.ts takes, in the base unit of its feature.
 * Readings keep their number and resolution. A stated value keeps its u and n; a count that was seen, read or counted on a
 * photograph, and given without an uncertainty, is taken as exact. A range becomes its midpoint with the standard
 * uncertainty of a rectangular distribution, (high - low) / sqrt 12. Words, blanks, half-open ranges, withdrawn claims
 * and a count of zero give no quantity, and the note says so.
 * @example toQuantity(width 12 to 14 mm, width).quantity // { value: 13, u: 0.5774 }
 * Source: JCGM 100:2008, 4.3.7 (rectangular distribution); that a count is exact is our own choice.
 */
export function toQuantity(claim: Claim, feature: Feature): ClaimQuantity {
  const unit = feature.baseUnit
  const none = (note: string): ClaimQuantity => ({ quantity: undefined, unit, note })
  if (claim.withdrawnOn !== null) return none('This claim is withdrawn.')
  if (claim.kind === 'blank') return none(`There is no value: ${claim.blank ? labelOf(BLANKS, claim.blank) : 'blank'}.`)
  if (claim.kind === 'text') return none('This is said in words, so there is nothing to calculate with.')
  if (unit === null || claim.unit === '') return none('This feature is not measured.')
  const from = claim.unit
  const toBase = (text: string) => convertUnit(Number(text), from, unit)
  if (claim.kind === 'readings') {
    const readings = readClaimReadings(claim, feature, unit)
    if (!readings) return none('The readings as they are kept cannot be read.')
    if (readings.values.every((value) => value === 0)) return none('A count of zero has no ratio.')
    return { quantity: { readings: readings.values, resolution: readings.resolution }, unit, note: '' }
  }
  if (claim.kind === 'range') {
    if (claim.low === null || claim.high === null)
      return none('Only one end of the range is stated, so there is no middle to compare.')
    const [low, high] = [toBase(claim.low), toBase(claim.high)]
    const note = 'The range is taken as its middle, with any value in it as likely as another.'
    return { quantity: { value: (low + high) / 2, u: (high - low) / Math.sqrt(12) }, unit, note }
  }
  const value = toBase(claim.value ?? '')
  if (value === 0) return none('A value of zero has no ratio.')
  const n = claim.n ?? undefined
  if (claim.u !== null) return { quantity: { value, u: toBase(claim.u), n }, unit, note: '' }
  const isCounted = feature.kind === 'count' && claim.basis !== 'inferred' && claim.basis !== 'assumed'
  if (!isCounted) return { quantity: { value, n }, unit, note: '' }
  return { quantity: { value, u: 0, n }, unit, note: 'The count is taken as exact.' }
}
