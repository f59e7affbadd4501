import { requireNotNegative } from '../measure/argument.ts'
import { effectiveDf } from '../measure/effective-df.ts'
import { studentT } from '../measure/student-t.ts'
import { sumOf } from '../measure/univariate.ts'

/** Share of all cases that the interval of a forecast is to hold: four in five. */
export const FORECAST_COVERAGE = 0.8

/** Minutes foretold, their scatter even on logarithms: a median, and how far around it. */
export interface MinutesAhead {
  /** As many cases are expected to take less as to take more. */
  readonly minutes: number
  /** Standard uncertainty of the natural logarithm of the minutes. */
  readonly u: number
  /** Degrees of freedom of `u`; Infinity where it is a judgement and nothing measured. */
  readonly df: number
}

/** Minutes with the interval that 80 % of such cases are expected to lie in. */
export interface Range {
  readonly low: number
  /** The median. */
  readonly likely: number
  readonly high: number
  /** What the mean of many such cases would be near to: above the median, for what goes wrong has no upper end. */
  readonly mean: number
}

/**
 * The interval of a forecast, by Student's t on logarithms.
 * @param ahead minutes zero or more, u zero or more
 * @returns minutes, unrounded; all zero for nothing ahead
 * @throws RangeError when a number is out of range
 * @example rangeOf({ minutes: 60, u: 0, df: 3 }) // low, likely, high and mean 60
 * Source: the mean of a log-normal variable, median x exp(u²/2), from memory; with few degrees of freedom it is too low.
 */
export function rangeOf({ minutes, u, df }: MinutesAhead, coverage = FORECAST_COVERAGE): Range {
  requireNotNegative('minutes', minutes)
  requireNotNegative('u', u)
  const reach = u === 0 ? 0 : studentT(coverage, df) * u
  return {
    low: minutes * Math.exp(-reach),
    likely: minutes,
    high: minutes * Math.exp(reach),
    mean: minutes * Math.exp((u * u) / 2),
  }
}

/**
 * Several stretches of work together. Their intervals must not be added up end by end: it is seldom that all go wrong at
 * once. The variances of the parts are added, each weighted by its share of the whole; they are taken as independent, which
 * is our own assumption.
 * @returns nothing ahead for no part
 * @example addAhead([{ minutes: 60, u: 0.3, df: 9 }, { minutes: 60, u: 0.4, df: 9 }]) // 120 minutes, u 0.25
 * Source: JCGM 100:2008, 5.1.2 and, for the degrees of freedom, G.4.1.
 */
export function addAhead(parts: readonly MinutesAhead[]): MinutesAhead {
  const minutes = sumOf(parts.map((part) => part.minutes))
  if (minutes === 0) return { minutes: 0, u: 0, df: Infinity }
  const weighted = parts.map((part) => ({ u: (part.minutes / minutes) * part.u, df: part.df }))
  return { minutes, u: Math.hypot(...weighted.map(({ u }) => u)), df: effectiveDf(weighted) }
}

// Half as long or twice as long at the ends of an interval of 80 %.
const GUESSED_U = Math.log(2) / studentT(FORECAST_COVERAGE, Infinity)

/**
 * A guess: its interval of 80 % goes from half of it to twice as much. That width is ours, no source.
 * @example rangeOf(guessed(120)) // low 60, likely 120, high 240
 */
export const guessed = (minutes: number): MinutesAhead => ({ minutes, u: GUESSED_U, df: Infinity })
