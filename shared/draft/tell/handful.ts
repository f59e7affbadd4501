import type { Turning } from '../woven.ts'

/**
 * How many handfuls each pick needs: neighbouring tablets that turn alike at that pick are taken in one handful.
 * @returns one count a pick, 1 when all tablets turn alike
 * @example picks 6F, 2F 2B 2F: Int32Array [1, 3]
 * Source: our own word for a run of tablets.
 */
export function countHandfuls({ tablets, picks, turns }: Turning): Int32Array {
  const counts = new Int32Array(picks)
  for (let pick = 0, cell = 0; pick < picks; pick++) {
    for (let tablet = 0; tablet < tablets; tablet++, cell++) {
      if (tablet === 0 || turns[cell] !== turns[cell - 1]) counts[pick]!++
    }
  }
  return counts
}

/**
 * How many tablets change direction at each pick, against their own last turn. A pick of idling between the two does not
 * hide the change, a half turn counts by its direction, and the first turn of the repeat is held against the last one of
 * the repeat before.
 * @returns one count a pick
 * @example one tablet that turns F F B I F, again and again: Int32Array [0, 0, 1, 0, 1]
 */
export function countChanges({ tablets, picks, turns }: Turning): Int32Array {
  const counts = new Int32Array(picks)
  // The last turn of the repeat before: what the first pass leaves. The second pass counts.
  const last = new Int8Array(tablets)
  for (const counting of [false, true]) {
    for (let pick = 0, cell = 0; pick < picks; pick++) {
      for (let tablet = 0; tablet < tablets; tablet++, cell++) {
        const turn = turns[cell]!
        if (turn === 0) continue
        if (counting && turn * last[tablet]! < 0) counts[pick]!++
        last[tablet] = turn
      }
    }
  }
  return counts
}
