import { classPicks } from '../packs.ts'
import type { Turning } from '../woven.ts'
import type { Taken } from './memory-form.ts'
import { countPlainWords, wordPick } from './spoken-pick.ts'

/** The eight ways to take a block, by number: 1 mirrored, 2 the other way, 4 from its end, added up. */
export const WAYS = 8
export const WAY_MIRRORED = 1
export const WAY_OTHER = 2
export const WAY_FROM_END = 4

/**
 * A way by its number as the words tell it.
 * @example takenBy(5) // { mirrored: true, otherWay: false, fromEnd: true }
 */
export function takenBy(way: number): Taken {
  return { mirrored: (way & WAY_MIRRORED) > 0, otherWay: (way & WAY_OTHER) > 0, fromEnd: (way & WAY_FROM_END) > 0 }
}

/** Words that each way costs: “mirrored” one, “the other way” three, “from its end” three. */
export const WORDS_OF_WAY: readonly number[] = Array.from({ length: WAYS }, (_, way) => {
  return (way & WAY_MIRRORED ? 1 : 0) + (way & WAY_OTHER ? 3 : 0) + (way & WAY_FROM_END ? 3 : 0)
})

/** The picks of a turning as symbols, equal ones by one number, from 0 in the order in which they first come. */
export interface PickAlphabet {
  readonly ring: Int32Array
  readonly rows: readonly (readonly number[])[]
  /** Words of each symbol when it is said. */
  readonly words: Int32Array
  /** Words of the whole turning when every pick is told from the left, without “then” between. */
  readonly plainWords: number
  /** `images[way][symbol]`, ways 0 to 3: the symbol of that pick mirrored, turned the other way or both; -1 when none. */
  readonly images: readonly Int32Array[]
}

/**
 * Turns the picks into symbols, and says what each becomes when it is mirrored and turned the other way.
 * @throws RangeError when a turn is none of 1, -1, 0, 2, -2
 * @example toAlphabet(turning of 2F, 2B, 2F).ring // Int32Array [0, 1, 0]
 */
export function toAlphabet(turning: Turning): PickAlphabet {
  const { tablets, turns } = turning
  const ring = classPicks(turning)
  const rows: number[][] = []
  ring.forEach((symbol, pick) => {
    if (symbol === rows.length) rows.push(Array.from(turns.subarray(pick * tablets, (pick + 1) * tablets)))
  })
  const toKey = (row: readonly number[]) => String.fromCharCode(...row.map((turn) => turn + 8))
  const symbolOf = new Map(rows.map((row, symbol) => [toKey(row), symbol]))
  const images = [0, 1, 2, 3].map((way) => {
    return Int32Array.from(rows, (row) => {
      const seen = way & WAY_MIRRORED ? row.toReversed() : row
      return symbolOf.get(toKey(way & WAY_OTHER ? seen.map((turn) => -turn) : seen)) ?? -1
    })
  })
  const plain = rows.map(countPlainWords)
  return {
    ring,
    rows,
    words: Int32Array.from(rows, (row) => wordPick(row).words),
    plainWords: ring.reduce((sum, symbol) => sum + plain[symbol]!, 0),
    images,
  }
}
