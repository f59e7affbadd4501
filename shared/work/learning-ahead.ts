import { requireFinite, requireNotNegative } from '../measure/argument.ts'
import { lineAt, type Line } from '../measure/line.ts'
import { predictLine, type Interval } from '../measure/line-interval.ts'
import { COVERAGE, studentT } from '../measure/student-t.ts'
import { sumOf } from '../measure/univariate.ts'

/** Minutes foretold by a learning curve. */
export interface LearningAhead {
  /** On the curve: the median, for the scatter is even on logarithms and a mean would lie above it. */
  readonly minutes: number
  /** Interval of the curve itself. */
  readonly curve: Interval
  /** Interval of what will be timed: with the scatter of single repeats. */
  readonly single: Interval
}

/**
 * What one repeat will take, or took by the curve.
 * @param line from `learningLine`: logarithm of minutes against logarithm of the repeat number
 * @param repeat its number, more than zero
 * @param coverage probability between the ends, 0.95 unless said
 * @returns minutes, unrounded
 * @throws RangeError when repeat is not above zero, or as `studentT`
 * @example repeatAhead(line, 13, 0.8).single // 80 % of all thirteenth repeats of such a hand lie in it
 */
export function repeatAhead(line: Line, repeat: number, coverage = COVERAGE): LearningAhead {
  const { y, mean, single } = predictLine(line, requireRepeat('repeat', repeat), coverage)
  return { minutes: Math.exp(y), curve: toMinutes(mean), single: toMinutes(single) }
}

/**
 * What further repeats will take together. Limits of single repeats must not be added up: their scatter partly cancels, and
 * the doubt about the curve is shared by all of them. So the logarithm of the sum gets a variance of its own, from that of
 * the curve (by the delta method) and from the scatter of each repeat.
 * @param line from `learningLine`
 * @param done repeats that are woven, zero or more, fractions allowed
 * @param upTo repeats when it is finished, not less than `done`; a fraction counts with its share of its repeat
 * @param coverage probability between the ends, 0.95 unless said
 * @returns minutes, unrounded; all zero when nothing is ahead
 * @throws RangeError when an argument is out of range
 * @example repeatsAhead(line, 12, 15) // repeats 13, 14 and 15 together
 * Source: delta method, JCGM 100:2008, 5.1.2; checked against a simulation of 16 million draws (tests/work).
 */
export function repeatsAhead(line: Line, done: number, upTo: number, coverage = COVERAGE): LearningAhead {
  requireNotNegative('done', done)
  if (requireFinite('upTo', upTo) < done) throw new RangeError(`upTo must not be less than done (${done}), not ${upTo}`)
  const parts = listParts(line, done, upTo)
  if (parts.length === 0) return { minutes: 0, curve: [0, 0], single: [0, 0] }
  const minutes = sumOf(parts.map((part) => part.minutes))
  const weights = parts.map((part) => part.minutes / minutes)
  // The sum stands where its parts stand, weighted by their minutes.
  const x = sumOf(parts.map((part, index) => (weights[index] as number) * part.logRepeat))
  const { uMean } = lineAt(line, x)
  const scatter = line.s * Math.sqrt(sumOf(weights.map((weight) => weight * weight)))
  const t = studentT(coverage, line.df)
  const around = (u: number): Interval => [minutes * Math.exp(-t * u), minutes * Math.exp(t * u)]
  return { minutes, curve: around(uMean), single: around(Math.hypot(uMean, scatter)) }
}

interface Part {
  readonly logRepeat: number
  readonly minutes: number
}

/** Repeat by repeat; the first and the last may be a share of one. */
function listParts(line: Line, done: number, upTo: number): Part[] {
  const parts: Part[] = []
  for (let repeat = Math.floor(done) + 1; repeat - 1 < upTo; repeat += 1) {
    const share = Math.min(upTo, repeat) - Math.max(done, repeat - 1)
    if (share <= 0) continue
    const logRepeat = Math.log(repeat)
    parts.push({ logRepeat, minutes: share * Math.exp(line.intercept + line.slope * logRepeat) })
  }
  return parts
}

function requireRepeat(name: string, repeat: number): number {
  if (!(Number.isFinite(repeat) && repeat > 0)) throw new RangeError(`${name} must be more than zero, not ${repeat}`)
  return Math.log(repeat)
}

const toMinutes = ([low, high]: Interval): Interval => [Math.exp(low), Math.exp(high)]
