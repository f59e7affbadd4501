import { requireFinite } from './argument.ts'
import { meanOf, sumOf } from './univariate.ts'

/** A straight line y = intercept + slope x, fitted by ordinary least squares. */
export interface Line {
  readonly intercept: number
  readonly slope: number
  /** Standard uncertainties of the two. */
  readonly uIntercept: number
  readonly uSlope: number
  /** Residual standard deviation, with n - 2 degrees of freedom. */
  readonly s: number
  readonly df: number
  readonly n: number
  readonly meanX: number
  /** Sum of the squared deviations of x from its mean. */
  readonly sxx: number
}

/**
 * Ordinary least squares through points of equal weight, centred first so that large x lose no digits.
 * @param x three or more finite numbers, not all alike
 * @param y as many finite numbers
 * @returns the line with the standard uncertainties of its two parameters
 * @throws RangeError when the two differ in length, there are fewer than three points, or all x are alike
 * @example fitLine([0, 1, 2], [1, 3, 5]) // intercept 1, slope 2, s 0; fitLine([1, 1, 1], [1, 2, 3]) throws
 * Source: JCGM 100:2008, H.3.2 equations H.13a to H.13f.
 */
export function fitLine(x: readonly number[], y: readonly number[]): Line {
  const n = x.length
  if (y.length !== n) throw new RangeError(`y must hold as many numbers as x (${n}), not ${y.length}`)
  if (n < 3) throw new RangeError(`x must hold at least three numbers, not ${n}`)
  const meanX = meanOf(x)
  const meanY = meanOf(y)
  const dx = x.map((value) => value - meanX)
  const dy = y.map((value) => value - meanY)
  const sxx = sumOf(dx.map((value) => value * value))
  if (sxx === 0) throw new RangeError(`x must not be the same number throughout, not ${meanX}`)
  const slope = sumOf(pairwise(dx, dy, (a, b) => a * b)) / sxx
  const intercept = meanY - slope * meanX
  const residuals = pairwise(dx, dy, (a, b) => b - slope * a)
  const s = Math.sqrt(sumOf(residuals.map((value) => value * value)) / (n - 2))
  const uSlope = s / Math.sqrt(sxx)
  return {
    intercept,
    slope,
    uIntercept: s * Math.sqrt(1 / n + (meanX * meanX) / sxx),
    uSlope,
    s,
    df: n - 2,
    n,
    meanX,
    sxx,
  }
}

/**
 * What a fitted line says at one x.
 * @param line from `fitLine`
 * @param x a finite number, in the unit of the fitted x
 * @returns `y` on the line; `uMean`, its standard uncertainty; `uNew`, the standard uncertainty of one new observation
 *   there, which adds the scatter of single observations
 * @throws RangeError when x is not finite
 * @example lineAt(fitLine([0, 1, 2], [1, 3, 5]), 10).y // 21
 * Source: JCGM 100:2008, H.3.4; D. Montgomery, G. Runger, Applied Statistics and Probability for Engineers, 11-6.
 */
export function lineAt(line: Line, x: number): { y: number; uMean: number; uNew: number } {
  const away = requireFinite('x', x) - line.meanX
  const lever = 1 / line.n + (away * away) / line.sxx
  return {
    y: line.intercept + line.slope * x,
    uMean: line.s * Math.sqrt(lever),
    uNew: line.s * Math.sqrt(1 + lever),
  }
}

function pairwise(a: readonly number[], b: readonly number[], join: (a: number, b: number) => number): number[] {
  return a.map((value, index) => join(value, b[index] ?? NaN))
}
