/** A number as a fraction of whole numbers: what was typed, without a float between. */
export interface Exact {
  readonly n: bigint
  /** More than zero. */
  readonly d: bigint
}

/**
 * A decimal as typed, with point or comma, exactly.
 * @param text `7.35`, `7,35` or `12`; no sign
 * @param most figures that may stand behind the point
 * @returns undefined for anything else
 * @example readExact('7,35') // { n: 735n, d: 100n }; readExact('1e3') // undefined; readExact('.5') // undefined
 */
export function readExact(text: string, most = 6): Exact | undefined {
  const [, whole, part = ''] = /^(\d{1,12})(?:[.,](\d{1,12}))?$/.exec(text.trim()) ?? []
  if (whole === undefined || part.length > most) return undefined
  return { n: BigInt(whole + part), d: 10n ** BigInt(part.length) }
}

/**
 * a x b / c, rounded once at the end: to the nearest whole number, and a half to the even one of the two beside it, so that
 * many halves pull a sum neither up nor down (ISO 80000-1, annex B, rule A).
 * @param c not zero
 * @throws RangeError when c is zero
 * @example mulDiv(2850n, 735n, 100n) // 20948n: 209.475 lies half way, and 209.48 is even; mulDiv(5n, 1n, 2n) // 2n
 * @example mulDiv(-5n, 1n, 2n) // -2n; mulDiv(-7n, 1n, 2n) // -4n
 */
export function mulDiv(a: bigint, b: bigint, c: bigint): bigint {
  if (c === 0n) throw new RangeError('c must not be zero')
  const product = c < 0n ? -a * b : a * b
  const by = c < 0n ? -c : c
  const isNegative = product < 0n
  const size = isNegative ? -product : product
  const whole = size / by
  const twice = 2n * (size % by)
  const up = twice > by || (twice === by && whole % 2n === 1n)
  const rounded = up ? whole + 1n : whole
  return isNegative ? -rounded : rounded
}

/**
 * Shares out a whole amount so that the parts add up to it exactly: each gets what its weight gives, rounded down, and what
 * is left over goes one by one to the largest remainders, the earlier of equal ones first.
 * @param total zero or more
 * @param weights zero or more each, not all zero
 * @returns as many parts as weights
 * @throws RangeError when total or a weight is negative, or the weights come to nothing
 * @example allocate(10000n, [1n, 1n, 1n]) // [3334n, 3333n, 3333n]; allocate(5n, [0n, 2n]) // [0n, 5n]
 * Source: the method of largest remainders (Hamilton), from memory.
 */
export function allocate(total: bigint, weights: readonly bigint[]): bigint[] {
  if (total < 0n) throw new RangeError(`total must be zero or more, not ${total}`)
  const sum = weights.reduce((all, weight) => all + weight, 0n)
  if (weights.some((weight) => weight < 0n)) throw new RangeError('weights must be zero or more')
  if (sum === 0n) throw new RangeError('weights must not all be zero')
  const parts = weights.map((weight) => (total * weight) / sum)
  const over = Number(total - parts.reduce((all, part) => all + part, 0n))
  const remainders = weights.map((weight, at) => ({ at, left: (total * weight) % sum }))
  remainders.sort((one, other) => (one.left === other.left ? one.at - other.at : one.left > other.left ? -1 : 1))
  for (const { at } of remainders.slice(0, over)) parts[at] = (parts[at] as bigint) + 1n
  return parts
}
