import { requireNotNegative } from '../measure/argument.ts'
import { sumOf } from '../measure/univariate.ts'
import { fitLearning, type Learning, type LearningPoint } from './learning.ts'
import { STAGES, type Stage } from './stage.ts'

/** One stretch of timed work. What was not counted is left out; 0 says that it was counted and came to nothing. */
export interface TimedSitting {
  /** From start to end, breaks included. */
  readonly minutes: number
  readonly breakMinutes: number
  readonly picks?: number | undefined
  readonly repeats?: number | undefined
  readonly lengthMm?: number | undefined
}

/** On what a rate stands: minutes worked and number of the sittings that state that unit. */
export interface PaceBase {
  readonly minutes: number
  readonly n: number
}

export interface Pace {
  /** Null when no sitting states repeats, or they come to none. */
  readonly minutesPerRepeat: number | null
  /** Null when no sitting states picks, or no time was worked in those that do. */
  readonly picksPerHour: number | null
  readonly mmPerHour: number | null
  /** Null under four sittings with repeats. */
  readonly learning: Learning | null
  readonly base: { readonly repeats: PaceBase; readonly picks: PaceBase; readonly lengthMm: PaceBase }
}

/**
 * Pace of timed work, breaks taken off. Each rate stands on those sittings only that state its unit, and says on how
 * many; a sitting that states repeats of 0 counts with its time. Learning takes one point a sitting, at the middle of the
 * repeats it covers, and leaves out sittings that finished none.
 * @param sittings in the order in which they were worked
 * @returns rates, unrounded; a rate that cannot be stated is null
 * @throws RangeError naming the sitting and field when a number is negative or not finite, or the breaks are longer
 *   than the sitting
 * @example paceOf([{ minutes: 100, breakMinutes: 10, repeats: 2, lengthMm: 180 }]) // 45 min a repeat, 120 mm/h
 * @example paceOf([]).minutesPerRepeat // null
 */
export function paceOf(sittings: readonly TimedSitting[]): Pace {
  const worked = sittings.map((sitting, index) => ({
    ...sitting,
    minutes: workedMinutes(sitting, `sittings[${index}]`),
  }))
  const repeats = total(worked, 'repeats')
  const picks = total(worked, 'picks')
  const length = total(worked, 'lengthMm')
  return {
    minutesPerRepeat: repeats.amount > 0 ? repeats.base.minutes / repeats.amount : null,
    picksPerHour: perHour(picks),
    mmPerHour: perHour(length),
    learning: fitLearning(toPoints(worked)),
    base: { repeats: repeats.base, picks: picks.base, lengthMm: length.base },
  }
}

/**
 * Minutes worked in a sitting: its length less the breaks.
 * @param sitting minutes and break minutes, zero or more
 * @param name what to call it in messages
 * @returns minutes, zero or more
 * @throws RangeError when either is negative or not finite, or the breaks are longer than the sitting
 * @example workedMinutes({ minutes: 90, breakMinutes: 15 }) // 75; with 90 and 90 // 0; with 90 and 91 it throws
 */
export function workedMinutes(sitting: { minutes: number; breakMinutes: number }, name = 'sitting'): number {
  const minutes = requireNotNegative(`${name}.minutes`, sitting.minutes)
  const breakMinutes = requireNotNegative(`${name}.breakMinutes`, sitting.breakMinutes)
  if (breakMinutes > minutes)
    throw new RangeError(`${name}.breakMinutes must be at most its minutes (${minutes}), not ${breakMinutes}`)
  return minutes - breakMinutes
}

/**
 * Quarter turns of tablets in an hour: every tablet of every pick that was turned by hand.
 * @param picksPerHour pace, zero or more
 * @param quarterTurnsPerPick tablets turned in a pick, a half turn counted twice and an idle tablet not at all; the mean of
 *   the repeat when picks differ
 * @returns quarter turns per hour, unrounded
 * @throws RangeError when either is negative or not finite
 * @example quarterTurnsPerHour(96, 21) // 2016
 */
export function quarterTurnsPerHour(picksPerHour: number, quarterTurnsPerPick: number): number {
  return (
    requireNotNegative('picksPerHour', picksPerHour) * requireNotNegative('quarterTurnsPerPick', quarterTurnsPerPick)
  )
}

/**
 * Hours worked at each stage, breaks taken off.
 * @param sittings in any order
 * @returns a row for each stage that occurs, in the order of the work, with hours worked, hours of breaks and the number of
 *   sittings
 * @throws RangeError as `workedMinutes`
 * @example hoursByStage([{ stage: 'weave', minutes: 90, breakMinutes: 30 }]) // [{ stage: 'weave', hours: 1, breakHours: 0.5, n: 1 }]
 */
export function hoursByStage(
  sittings: readonly (Pick<TimedSitting, 'minutes' | 'breakMinutes'> & { readonly stage: Stage })[],
): { stage: Stage; hours: number; breakHours: number; n: number }[] {
  const worked = sittings.map((sitting, index) => ({
    ...sitting,
    worked: workedMinutes(sitting, `sittings[${index}]`),
  }))
  return STAGES.flatMap((stage) => {
    const own = worked.filter((sitting) => sitting.stage === stage)
    if (own.length === 0) return []
    const hours = sumOf(own.map((sitting) => sitting.worked)) / 60
    return [{ stage, hours, breakHours: sumOf(own.map((sitting) => sitting.breakMinutes)) / 60, n: own.length }]
  })
}

interface Total {
  readonly amount: number
  readonly base: PaceBase
}

function total(sittings: readonly TimedSitting[], unit: 'repeats' | 'picks' | 'lengthMm'): Total {
  const amounts: number[] = []
  const minutes: number[] = []
  for (const [index, sitting] of sittings.entries()) {
    const amount = sitting[unit]
    if (amount === undefined) continue
    amounts.push(requireNotNegative(`sittings[${index}].${unit}`, amount))
    minutes.push(sitting.minutes)
  }
  return { amount: sumOf(amounts), base: { minutes: sumOf(minutes), n: amounts.length } }
}

function perHour({ amount, base }: Total): number | null {
  return base.minutes > 0 ? (amount * 60) / base.minutes : null
}

/**
 * The points that a learning curve stands on where only sittings are known: one a sitting, breaks taken off, at the middle of
 * the repeats that it covers; sittings that finished none are left out.
 * @param sittings in the order in which they were worked
 * @returns repeat and minutes of one repeat, unrounded
 * @throws RangeError as `workedMinutes`
 * @example listLearningPoints([{ minutes: 90, breakMinutes: 0, repeats: 2 }]) // [{ repeat: 1.5, minutes: 45 }]
 */
export const listLearningPoints = (sittings: readonly TimedSitting[]): LearningPoint[] =>
  toPoints(sittings.map((sitting, index) => ({ ...sitting, minutes: workedMinutes(sitting, `sittings[${index}]`) })))

function toPoints(sittings: readonly TimedSitting[]): LearningPoint[] {
  const points: LearningPoint[] = []
  let before = 0
  for (const { repeats = 0, minutes } of sittings) {
    // Repeats 4 to 6 have their middle at 5: the three before them and half of three and a half step.
    if (repeats > 0 && minutes > 0) points.push({ repeat: before + (repeats + 1) / 2, minutes: minutes / repeats })
    before += repeats
  }
  return points
}
