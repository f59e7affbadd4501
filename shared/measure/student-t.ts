import { centralNormal, normalDensity, tailNormal } from './normal.ts'

/** Coverage that intervals of this program have, unless they say otherwise: 95 %. */
export const COVERAGE = 0.95

// Above this many degrees of freedom the expansion around the normal quantile is exact to the last digit,
// and the continued fraction would only grow slower.
const MANY_DEGREES = 10_000

/**
 * Two-sided quantile of Student's t: the k for which P(-k < T < k) = coverage.
 * @param coverage probability between the two limits, 1e-9 to 1 - 1e-9
 * @param df degrees of freedom, 0.5 or more; fractions are used as they are, not truncated; Infinity gives the normal
 *   distribution
 * @returns k, with a relative error below 1e-12 for coverages up to 0.9999
 * @throws RangeError when either is outside its range or NaN
 * @example studentT(0.95, 9) // 2.2621571628; studentT(0.95, 16.7646) // 2.1122...; studentT(0.95, Infinity) // 1.95996...
 * Source: the incomplete beta function, DLMF 8.17.22 (continued fraction) and 5.11.8 (its gamma ratio); above 10 000
 * degrees of freedom Abramowitz and Stegun 26.7.5. The root is found by Newton's rule on logarithms.
 */
export function studentT(coverage: number, df: number): number {
  if (!(coverage >= 1e-9 && coverage <= 1 - 1e-9))
    throw new RangeError(`coverage must be from 1e-9 to 1 - 1e-9, not ${coverage}`)
  if (!(df >= 0.5)) throw new RangeError(`df must be at least 0.5, not ${df}`)
  if (df > MANY_DEGREES) {
    const z = findRoot(coverage, centralNormal, tailNormal, normalDensity)
    return df === Infinity ? z : aroundNormal(z, df)
  }
  const logRatio = logGammaRatio(df / 2)
  return findRoot(
    coverage,
    (t) => centralT(t, df, logRatio),
    (t) => tailT(t, df, logRatio),
    (t) => Math.exp(logRatio - 0.5 * Math.log(Math.PI * df) - ((df + 1) / 2) * Math.log1p((t * t) / df)),
  )
}

/** P(-t < T < t). */
function centralT(t: number, df: number, logRatio: number): number {
  const square = t * t
  // The fraction converges fast on one side of the mean of the beta distribution only.
  if (square / (df + square) < 1.5 / (df / 2 + 2.5))
    return betaFraction(square / (df + square), 0.5, df / 2, t, df, logRatio)
  return 1 - tailT(t, df, logRatio)
}

/** P(|T| > t). */
function tailT(t: number, df: number, logRatio: number): number {
  const square = t * t
  if (square / (df + square) < 1.5 / (df / 2 + 2.5)) return 1 - centralT(t, df, logRatio)
  return betaFraction(df / (df + square), df / 2, 0.5, t, df, logRatio)
}

/** I_x(a, b) by its continued fraction (DLMF 8.17.22, modified Lentz), where {a, b} is {df/2, 1/2} in either order. */
function betaFraction(x: number, a: number, b: number, t: number, df: number, logRatio: number): number {
  const square = t * t
  // ln of x^a (1-x)^b / B(a, b): the same whichever of the two is x, and written so that no digit is lost near x = 1.
  const logFront =
    -(df / 2) * Math.log1p(square / df) + 0.5 * Math.log(square / (df + square)) + logRatio - 0.5 * Math.log(Math.PI)
  let c = 1
  let d = 1 / (1 - ((a + b) * x) / (a + 1))
  let fraction = d
  for (let m = 1; m < 10_000; m += 1) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m))
    d = 1 / (1 + even * d)
    c = 1 + even / c
    fraction *= c * d
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1))
    d = 1 / (1 + odd * d)
    c = 1 + odd / c
    const step = c * d
    fraction *= step
    if (Math.abs(step - 1) < 1e-16) break
  }
  return (Math.exp(logFront) * fraction) / a
}

/** ln of gamma(a + 1/2) / gamma(a): DLMF 5.11.8 after stepping a up to where five terms hold to the last digit. */
function logGammaRatio(a: number): number {
  let stepped = a
  let product = 1
  while (stepped < 20) {
    product *= stepped / (stepped + 0.5)
    stepped += 1
  }
  const inverse = 1 / (stepped * stepped)
  const series = 1 / 8 - inverse * (1 / 192 - inverse * (1 / 640 - inverse * (17 / 14336 - (inverse * 31) / 18432)))
  return Math.log(product) + 0.5 * Math.log(stepped) - series / stepped
}

/** Abramowitz and Stegun 26.7.5. */
function aroundNormal(z: number, df: number): number {
  const q = z * z
  const g1 = (z * (q + 1)) / 4
  const g2 = (z * ((5 * q + 16) * q + 3)) / 96
  const g3 = (z * (((3 * q + 19) * q + 17) * q - 15)) / 384
  const g4 = (z * ((((79 * q + 776) * q + 1482) * q - 1920) * q - 945)) / 92160
  return z + (g1 + (g2 + (g3 + g4 / df) / df) / df) / df
}

/**
 * On logarithms both curves are concave, so that Newton's rule cannot circle; the smaller side keeps its digits.
 * A step is held to a factor of e, because the tail of the normal curve soon has no number left to divide by.
 */
function findRoot(
  coverage: number,
  central: (t: number) => number,
  tail: (t: number) => number,
  density: (t: number) => number,
): number {
  const [side, target, sign] = coverage < 0.5 ? [central, coverage, 1] : [tail, 1 - coverage, -1]
  let t = coverage < 0.5 ? coverage : 1
  for (let turn = 0; turn < 200; turn += 1) {
    const probability = side(t)
    const step = (Math.log(target / probability) * probability * sign) / (2 * t * density(t))
    t *= Math.exp(Math.max(-1, Math.min(1, step)))
    // The error left is about the square of the step just made.
    if (Math.abs(step) < 1e-10) break
  }
  return t
}
