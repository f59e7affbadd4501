import { deltaE2000, labOfHex } from '../colour/lab.ts'

export interface Coloured<K> {
  readonly key: K
  /** `#rrggbb`. */
  readonly hex: string
}

export interface ColourPair<K, L> {
  readonly one: K
  readonly other: L
  /** CIEDE2000. */
  readonly difference: number
}

/**
 * Colours of two palettes set beside each other: the nearest pair first, each colour once, so that of two reds the nearer
 * one is taken and the other goes with what is left.
 * @param ones, others small palettes; the longer one keeps some over
 * @returns the pairs, in the order of `ones`
 * @throws RangeError when a hex is none
 * @example matchColours([{ key: 'm', hex: '#a03020' }], [{ key: 'x', hex: '#203080' }, { key: 'y', hex: '#a03524' }]) // m with y
 * Source: greedy by CIEDE2000 (ISO/CIE 11664-6); the assignment is our own.
 */
export function matchColours<K, L>(ones: readonly Coloured<K>[], others: readonly Coloured<L>[]): ColourPair<K, L>[] {
  const labs = others.map(({ hex }) => labOfHex(hex))
  const all = ones.flatMap((one, at) => {
    const lab = labOfHex(one.hex)
    return labs.map((other, to) => ({ at, to, difference: deltaE2000(lab, other) }))
  })
  const taken = { ones: new Set<number>(), others: new Set<number>() }
  const pairs = all
    .toSorted((left, right) => left.difference - right.difference || left.at - right.at || left.to - right.to)
    .filter(({ at, to }) => {
      if (taken.ones.has(at) || taken.others.has(to)) return false
      taken.ones.add(at)
      taken.others.add(to)
      return true
    })
  return pairs
    .toSorted((left, right) => left.at - right.at)
    .map(({ at, to, difference }) => ({ one: ones[at]!.key, other: others[to]!.key, difference }))
}
