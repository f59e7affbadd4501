/**
 * How far a ring of symbols must be turned to become another one.
 * @param ring the symbols as they stand
 * @param wanted as many symbols
 * @returns the smallest shift from `least` on with wanted[i] = ring[(i + shift) mod n] for every i; undefined when none is
 * @throws RangeError when the rings are not of one length
 * @example findShift([1, 2, 3], [3, 1, 2]) // 2
 * Source: the search of Knuth, Morris and Pratt (1977), from memory.
 */
export function findShift(ring: ArrayLike<number>, wanted: ArrayLike<number>, least = 0): number | undefined {
  const n = ring.length
  if (wanted.length !== n) throw new RangeError(`wanted must hold ${n} symbols, got ${wanted.length}`)
  if (n === 0) return undefined
  const back = failures(wanted)
  let matched = 0
  // The ring twice, from `least` on: every shift from there to least + n - 1.
  for (let at = least; at < least + 2 * n; at++) {
    const symbol = ring[at % n]!
    while (matched > 0 && (matched === n || wanted[matched] !== symbol)) matched = back[matched - 1]!
    if (wanted[matched] === symbol) matched++
    if (matched === n) return at - n + 1
  }
  return undefined
}

/**
 * The shortest piece that, woven again and again, gives the whole ring.
 * @returns its length, a divisor of the ring's; the ring's own when there is no shorter one
 * @example periodOf([1, 2, 1, 2]) // 2; periodOf([1, 2, 1]) // 3
 */
export function periodOf(ring: ArrayLike<number>): number {
  const n = ring.length
  if (n === 0) return 0
  const period = n - failures(ring)[n - 1]!
  return n % period === 0 ? period : n
}

/**
 * Every place of a text at which a word stands.
 * @param word at least one symbol
 * @returns places counted from 0, rising; they may overlap
 * @example findWord([1, 1, 1], [1, 1]) // [0, 1]
 */
export function findWord(text: ArrayLike<number>, word: ArrayLike<number>): number[] {
  if (word.length === 0) throw new RangeError('word must hold at least one symbol, not none')
  const back = failures(word)
  const places: number[] = []
  for (let at = 0, matched = 0; at < text.length; at++) {
    while (matched > 0 && (matched === word.length || word[matched] !== text[at])) matched = back[matched - 1]!
    if (word[matched] === text[at]) matched++
    if (matched === word.length) places.push(at + 1 - matched)
  }
  return places
}

/** For every prefix, the length of the longest shorter prefix that it ends in. */
function failures(word: ArrayLike<number>): Int32Array {
  const back = new Int32Array(word.length)
  for (let at = 1, length = 0; at < word.length; at++) {
    while (length > 0 && word[at] !== word[length]) length = back[length - 1]!
    if (word[at] === word[length]) length++
    back[at] = length
  }
  return back
}
