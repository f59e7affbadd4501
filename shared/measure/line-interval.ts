import { lineAt, type Line } from './line.ts'
import { COVERAGE, studentT } from './student-t.ts'

/** The two ends of an interval, the lower one first. */
export type Interval = readonly [number, number]

/**
 * Interval of the slope of a fitted line, by Student's t at its degrees of freedom.
 * @param line from `fitLine`
 * @param coverage probability between the ends, 0.95 unless said
 * @returns the two ends, in units of y per unit of x
 * @throws RangeError as `studentT`
 * @example slopeInterval(fitLine([0, 1, 2], [1, 3, 5])) // [2, 2]: the points lie on the line
 * Source: D. Montgomery, G. Runger, Applied Statistics and Probability for Engineers, 11-5.1.
 */
export function slopeInterval(line: Line, coverage = COVERAGE): Interval {
  const reach = studentT(coverage, line.df) * line.uSlope
  return [line.slope - reach, line.slope + reach]
}

/**
 * What a fitted line foretells at one x.
 * @param line from `fitLine`
 * @param x in the unit of the fitted x
 * @param coverage probability between the ends, 0.95 unless said
 * @returns `y` on the line; `mean`, the interval of the line itself there (its band); `single`, that of one new observation,
 *   which is wider by the scatter of single observations
 * @throws RangeError when x is not finite, or as `studentT`
 * @example predictLine(line, 1) // Montgomery's example: y 89.231, mean 88.486 to 89.975, single 86.830 to 91.632
 * Source: D. Montgomery, G. Runger, Applied Statistics and Probability for Engineers, 11-5.2 and 11-6.
 */
export function predictLine(
  line: Line,
  x: number,
  coverage = COVERAGE,
): { y: number; mean: Interval; single: Interval } {
  const { y, uMean, uNew } = lineAt(line, x)
  const t = studentT(coverage, line.df)
  return { y, mean: [y - t * uMean, y + t * uMean], single: [y - t * uNew, y + t * uNew] }
}
