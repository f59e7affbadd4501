import { requirePositive } from '../measure/argument.ts'
import { fitLine, type Line } from '../measure/line.ts'
import { slopeInterval, type Interval } from '../measure/line-interval.ts'

/** Nothing is claimed on fewer pieces. */
export const LEAST_PIECES = 5

/** How the time of a pick goes with something that can be said of a piece: another one of it multiplies the seconds. */
export interface PaceTrend {
  /** Seconds a pick, for one more of the measure, as a share of what they were: 1.1 is 10 % more. */
  readonly factor: number
  readonly interval: Interval
  /** Whether the interval leaves out that nothing changes. */
  readonly isClear: boolean
  readonly n: number
  /** Of the natural logarithm of the seconds against the measure. */
  readonly line: Line
}

/**
 * A straight line through the logarithms of the seconds a pick, one point a piece.
 * @param points measure, in any unit, and seconds a pick above zero
 * @returns null under five pieces, or where all of them have the same measure
 * @throws RangeError when seconds are not above zero
 * @example trendOf([1, 2, 3, 4, 5].map((x) => ({ x, seconds: 10 * 1.1 ** x }))) // factor 1.1
 * Source: ordinary least squares, JCGM 100:2008, H.3; that pieces compare by shares is our own choice.
 */
export function trendOf(points: readonly { readonly x: number; readonly seconds: number }[]): PaceTrend | null {
  const logs = points.map(({ seconds }, index) => Math.log(requirePositive(`points[${index}].seconds`, seconds)))
  const x = points.map((point) => point.x)
  if (points.length < LEAST_PIECES || x.every((value) => value === x[0])) return null
  const line = fitLine(x, logs)
  const [low, high] = slopeInterval(line)
  return {
    ...{ factor: Math.exp(line.slope), interval: [Math.exp(low), Math.exp(high)], n: line.n, line },
    isClear: low > 0 || high < 0,
  }
}
