import { requireNotNegative } from '../measure/argument.ts'
import { studentT } from '../measure/student-t.ts'
import { sumOf } from '../measure/univariate.ts'
import { FORECAST_COVERAGE, guessed, type MinutesAhead } from './hours-ahead.ts'
import { repeatsAhead } from './learning-ahead.ts'
import { learningLine } from './learning.ts'
import { workedMinutes, type TimedSitting } from './pace.ts'

/** A stretch at the loom: repeats that stayed, and all the minutes that they took. */
export interface LoomPoint {
  /** Repeats that were woven before it. */
  readonly from: number
  readonly repeats: number
  readonly minutes: number
}

/**
 * Sittings at the loom as points of a forecast. Time that brought nothing forward (unweaving, or what was unwoven again) goes
 * with the stretch before it, or after it at the beginning: so what is to come is foretold with its share of mishaps.
 * @param sittings as `toPaceSittings` and `fillProgress` give them, in the order in which they were worked
 * @returns none where no sitting states repeats
 * @example loomPoints([{ minutes: 60, breakMinutes: 0, repeats: 2 }, { minutes: 20, breakMinutes: 0, repeats: 0 }])
 *   // [{ from: 0, repeats: 2, minutes: 80 }]
 */
export function loomPoints(sittings: readonly TimedSitting[]): LoomPoint[] {
  const points: LoomPoint[] = []
  let woven = 0
  let waiting = 0
  for (const [index, sitting] of sittings.entries()) {
    if (sitting.repeats === undefined) continue
    const minutes = workedMinutes(sitting, `sittings[${index}]`)
    const last = points.at(-1)
    if (sitting.repeats > 0 && minutes > 0) {
      points.push({ from: woven, repeats: sitting.repeats, minutes: minutes + waiting })
      waiting = 0
    } else if (last) points[points.length - 1] = { ...last, minutes: last.minutes + minutes }
    else waiting += minutes
    woven += sitting.repeats
  }
  return points
}

/** How hours still to go at the loom were found. */
export type RemainingBy = 'learning' | 'pace' | 'one' | 'done'

export interface Remaining {
  readonly ahead: MinutesAhead
  readonly by: RemainingBy
  /** Stretches it rests on. */
  readonly n: number
  /** Repeats that are woven, and that are still to be. */
  readonly woven: number
  readonly left: number
}

/**
 * Minutes still to go at the loom, from the repeats that are woven already: by the learning curve where there are four
 * stretches or more, else by their pace.
 * @param points from `loomPoints`
 * @param upTo repeats when the band is finished
 * @returns null where no stretch is timed; nothing ahead where as much or more is woven
 * @throws RangeError when upTo is negative or not finite
 * @example four sittings of one repeat each, upTo 7: repeats 5, 6 and 7 by the curve, df 2
 * Source: the curve by `repeatsAhead`; the pace as a ratio of sums with scatter that grows with the root of the work (W. G. Cochran,
 * Sampling Techniques, from memory), and on logarithms so that no end falls below zero.
 */
export function remainingAtLoom(points: readonly LoomPoint[], upTo: number): Remaining | null {
  requireNotNegative('upTo', upTo)
  const n = points.length
  if (n === 0) return null
  const woven = sumOf(points.map(({ repeats }) => repeats))
  const left = Math.max(0, upTo - woven)
  const base = { n, woven, left }
  if (left === 0) return { ...base, by: 'done', ahead: { minutes: 0, u: 0, df: Infinity } }
  const line = learningLine(
    points.map(({ from, repeats, minutes }) => ({ repeat: from + (repeats + 1) / 2, minutes: minutes / repeats })),
  )
  if (line) {
    const { minutes, curve, single } = repeatsAhead(line, woven, upTo, FORECAST_COVERAGE)
    const t = studentT(FORECAST_COVERAGE, line.df)
    const [uCurve, uSingle] = [curve, single].map(([, high]) => Math.log(high / minutes) / t) as [number, number]
    // A point of several repeats has scattered less than each of them does.
    const scatter = Math.max(0, uSingle ** 2 - uCurve ** 2) * (woven / n)
    return { ...base, by: 'learning', ahead: { minutes, u: Math.sqrt(uCurve ** 2 + scatter), df: line.df } }
  }
  const rate = sumOf(points.map(({ minutes }) => minutes)) / woven
  if (n === 1) return { ...base, by: 'one', ahead: guessed(rate * left) }
  const squares = sumOf(points.map(({ repeats, minutes }) => (minutes - rate * repeats) ** 2 / repeats))
  const s = Math.sqrt(squares / (n - 1))
  const u = (s * Math.sqrt(left + left ** 2 / woven)) / (rate * left)
  return { ...base, by: 'pace', ahead: { minutes: rate * left, u, df: n - 1 } }
}
