/**
 * Which of several values lie far off the others, so that somebody looks at them again; they count all the same.
 * @param values finite
 * @returns their places; none of fewer than four, or where half of them are alike
 * @throws RangeError when a value is not finite
 * @example listFarOff([1.1, 1.12, 1.08, 1.1, 3]) // [4]
 * Source: modified z-score above 3.5, Iglewicz and Hoaglin, as in the NIST/SEMATECH e-Handbook, 1.3.5.17 (from memory).
 */
export function listFarOff(values: readonly number[]): number[] {
  const bad = values.find((value) => !Number.isFinite(value))
  if (bad !== undefined) throw new RangeError(`values must be finite, not ${bad}`)
  if (values.length < 4) return []
  const middle = medianOf(values)
  const spread = medianOf(values.map((value) => Math.abs(value - middle)))
  if (spread === 0) return []
  return values.flatMap((value, at) => (Math.abs(0.6745 * (value - middle)) / spread > 3.5 ? [at] : []))
}

function medianOf(values: readonly number[]): number {
  const sorted = values.toSorted((left, right) => left - right)
  const half = sorted.length / 2
  return (sorted[Math.ceil(half) - 1]! + sorted[Math.floor(half)]!) / 2
}
