/**
 * Density of the standard normal distribution.
 * @param z any finite number
 * @returns exp(-z^2/2) / sqrt(2 pi)
 * @example normalDensity(0) // 0.39894...
 */
export function normalDensity(z: number): number {
  return Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)
}

/**
 * Probability that a standard normal variable lies between -z and z.
 * @param z zero or more; beyond 37 the answer is 1
 * @returns 0 to 1
 * @throws RangeError when z is negative or NaN
 * @example centralNormal(1) // 0.6826894921...; centralNormal(0) // 0
 * Source: DLMF 7.6.2 (a series of positive terms) below 3, one minus the tail above.
 */
export function centralNormal(z: number): number {
  if (!(z >= 0)) throw new RangeError(`z must be zero or more, not ${z}`)
  if (z >= 3) return 1 - tailNormal(z)
  let term = z
  let sum = 0
  for (let odd = 3; sum + term !== sum; odd += 2) {
    sum += term
    term *= (z * z) / odd
  }
  return 2 * normalDensity(z) * sum
}

/**
 * Probability that a standard normal variable lies outside -z to z.
 * @param z zero or more; beyond 38 the answer is too small for a number and comes back as 0
 * @returns 0 to 1, with its leading digits kept however small it is
 * @throws RangeError when z is negative or NaN
 * @example tailNormal(2) // 0.0455002638...; tailNormal(0) // 1
 * Source: DLMF 7.9.3 (the continued fraction of Mills' ratio) from 3 on, one minus the centre below.
 */
export function tailNormal(z: number): number {
  if (!(z >= 0)) throw new RangeError(`z must be zero or more, not ${z}`)
  if (z < 3) return 1 - centralNormal(z)
  // From the far end inward; at z = 3 eighty terms leave nothing to gain.
  let fraction = z
  for (let m = 80; m >= 1; m -= 1) fraction = z + m / fraction
  return (2 * normalDensity(z)) / fraction
}
