/** Entropies of a sequence that goes round and round, in bits. */
export interface SequenceEntropy {
  /** How many symbols, and so how many pairs, it was counted from. */
  readonly n: number
  /** Of a symbol alone. */
  readonly alone: number
  /** Of a symbol given the one before it. */
  readonly givenLast: number
}

/**
 * Entropy of a symbol, and of a symbol given the one before it: H(Y|X) = H(X, Y) - H(X), which is the sum over all pairs
 * of -p(x, y) log2 p(y | x). Every share p is a count divided by n. The sequence is taken as a ring: after its last
 * symbol comes its first. Shares counted from few symbols make both figures too small; nothing is added for that.
 * @param symbols whole numbers; which ones does not matter, only which are equal
 * @returns both 0 when there is one symbol or none
 * @example entropyOf(Int32Array.of(0, 0, 1, 1)) // { n: 4, alone: 1, givenLast: 1 }
 * @example entropyOf(Int32Array.of(0, 1, 2, 3)) // { n: 4, alone: 2, givenLast: 0 }: each tells the next
 * Source: C. E. Shannon, “A Mathematical Theory of Communication”, 1948, section 6 (conditional entropy); from memory.
 */
export function entropyOf(symbols: ArrayLike<number>): SequenceEntropy {
  const n = symbols.length
  const single = new Map<number, number>()
  const pairs = new Map<number, Map<number, number>>()
  for (let at = 0; at < n; at++) {
    const [now, next] = [symbols[at]!, symbols[at + 1 === n ? 0 : at + 1]!]
    single.set(now, (single.get(now) ?? 0) + 1)
    let after = pairs.get(now)
    if (after === undefined) pairs.set(now, (after = new Map()))
    after.set(next, (after.get(next) ?? 0) + 1)
  }
  let [alone, givenLast] = [0, 0]
  for (const [symbol, count] of single) {
    alone -= (count / n) * Math.log2(count / n)
    for (const pair of pairs.get(symbol)!.values()) givenLast -= (pair / n) * Math.log2(pair / count)
  }
  // -0 would be shown as such.
  return { n, alone: alone + 0, givenLast: givenLast + 0 }
}
