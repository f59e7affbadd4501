import { requireFinite, requirePositive } from '../measure/argument.ts'
import { fitLine, type Line } from '../measure/line.ts'
import { slopeInterval } from '../measure/line-interval.ts'

/** Time per repeat against repeat number, once: repeat `repeat` took `minutes`. */
export interface LearningPoint {
  readonly repeat: number
  readonly minutes: number
}

/** A fitted learning curve of the unit model: minutes of a repeat = firstRepeatMinutes x repeat^exponent. */
export interface Learning {
  readonly firstRepeatMinutes: number
  /** Below zero while the work gets faster. */
  readonly exponent: number
  /** Share of the time left at each doubling of the repeats: 0.8 is an 80 % curve; above 1 the work got slower. */
  readonly ratePerDoubling: number
  /** 95 % interval of that share, by Student's t with n - 2 degrees of freedom. */
  readonly rateInterval: readonly [number, number]
  /** Residual standard deviation of the natural logarithm of the minutes. */
  readonly sLog: number
  /** How many points. */
  readonly n: number
}

/** Fewer points than this are no curve. */
export const LEAST_LEARNING_POINTS = 4

/**
 * The unit learning curve through timed repeats: least squares on natural logarithms. (The other model, in which the
 * running average falls, would give another exponent; the two must not be mixed.)
 * @param points repeat number (fractions allowed, for the middle of several) and minutes of one repeat, both above zero
 * @returns the curve; null under four points, and where they stand so close together that they carry no curve
 * @throws RangeError when a number is not above zero
 * @example fitLearning([1, 2, 4, 8].map((repeat) => ({ repeat, minutes: 100 * 0.8 ** Math.log2(repeat) }))) // rate 0.8
 * Source: the unit model is J. R. Crawford's; the fit is a straight line, JCGM 100:2008, H.3.
 */
export function fitLearning(points: readonly LearningPoint[]): Learning | null {
  const line = learningLine(points)
  if (!line) return null
  const [least, most] = slopeInterval(line)
  return {
    firstRepeatMinutes: Math.exp(line.intercept),
    exponent: line.slope,
    ratePerDoubling: 2 ** line.slope,
    rateInterval: [2 ** least, 2 ** most],
    sLog: line.s,
    n: line.n,
  }
}

/**
 * The same curve as the straight line that it is on logarithms: ln(minutes) = intercept + slope x ln(repeat). What a curve
 * foretells follows from it, by `repeatAhead` and `repeatsAhead`.
 * @returns the line; null where `fitLearning` is null
 * @throws RangeError when a number is not above zero
 */
export function learningLine(points: readonly LearningPoint[]): Line | null {
  for (const [index, { repeat, minutes }] of points.entries()) {
    requirePositive(`points[${index}].repeat`, repeat)
    requirePositive(`points[${index}].minutes`, minutes)
  }
  if (points.length < LEAST_LEARNING_POINTS) return null
  const logRepeats = points.map(({ repeat }) => Math.log(repeat))
  if (logRepeats.every((value) => value === logRepeats[0])) return null
  const line = fitLine(
    logRepeats,
    points.map(({ minutes }) => Math.log(minutes)),
  )
  const figures = [line.intercept, line.slope, ...slopeInterval(line)].map((value, at) =>
    at === 0 ? Math.exp(value) : 2 ** value,
  )
  return figures.every(Number.isFinite) ? line : null
}

/**
 * Exponent of a learning curve from its rate per doubling.
 * @param ratePerDoubling share of the time left at each doubling, more than zero: 0.8 for an 80 % curve
 * @returns log2 of the rate
 * @throws RangeError when the rate is not above zero
 * @example exponentOfRate(0.8) // -0.3219...
 */
export function exponentOfRate(ratePerDoubling: number): number {
  return Math.log2(requirePositive('ratePerDoubling', ratePerDoubling))
}

/**
 * Time of one repeat on a unit learning curve.
 * @param firstRepeatMinutes time of the first repeat, more than zero
 * @param exponent of the curve
 * @param repeat number of the repeat, more than zero
 * @returns minutes, unrounded
 * @throws RangeError when an argument is out of range
 * @example unitMinutes(100, exponentOfRate(0.8), 4) // 64
 */
export function unitMinutes(firstRepeatMinutes: number, exponent: number, repeat: number): number {
  requirePositive('firstRepeatMinutes', firstRepeatMinutes)
  requireFinite('exponent', exponent)
  return firstRepeatMinutes * requirePositive('repeat', repeat) ** exponent
}
