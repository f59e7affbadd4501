import type { Feature } from '../../shared/measure/feature.ts'
import { isQuantity } from '../../shared/measure/feature.ts'
import { resolutionOfDensity } from '../../shared/measure/reading-summary.ts'
import { readReadings } from '../../shared/measure/reading.ts'
import { convertUnit, type Unit } from '../../shared/measure/unit.ts'
import type { Claim } from './queries.ts'

/** The readings of a claim as numbers, with the smallest step that could be told apart. */
export interface ClaimReadings {
  readonly values: readonly number[]
  /** A full width in the same unit; undefined when it is not known. */
  readonly resolution: number | undefined
}

/**
 * Reads the readings of a claim again from what was typed.
 * A count has no ruler: its resolution is 0 unless one is given. The step of the ruler of a density is in mm, and one
 * more or less counted is taken as its other half.
 * @param unit in which they are wanted
 * @returns undefined when the claim has no readings, or none that can be read
 */
export function readClaimReadings(claim: Claim, feature: Feature, unit: Unit): ClaimReadings | undefined {
  if (claim.readings === null || claim.unit === '' || !isQuantity(feature.kind)) return undefined
  const from = claim.unit
  const read = readReadings(claim.readings, { kind: feature.kind, unit: from })
  if (!read.ok || read.readings.length === 0) return undefined
  const values = read.readings.map((reading) => convertUnit(reading.value, from, unit))
  if (claim.resolution === null) return { values, resolution: feature.kind === 'count' ? 0 : undefined }
  const step = Number(claim.resolution)
  if (feature.kind !== 'perCm') return { values, resolution: convertUnit(step, from, unit) }
  const counted = read.readings.flatMap((reading) => reading.counted ?? [])
  if (counted.length < values.length) return { values, resolution: undefined }
  return { values, resolution: convertUnit(resolutionOfDensity(counted, step), 'perCm', unit) }
}
