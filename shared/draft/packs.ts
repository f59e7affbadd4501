import type { Turning } from './woven.ts'

/**
 * The packs of a turning: tablets that turn alike through the whole repeat. Every tablet is in one pack, if only its own.
 * @returns lists of tablet numbers from 1, each in order, the pack of tablet 1 first
 * @example listPacks(turning) // [[1, 2, 5, 6], [3, 4]]
 */
export function listPacks({ tablets, picks, turns }: Turning): number[][] {
  const packs: number[][] = []
  toClasses(turns, { items: tablets, next: 1 }, { items: picks, next: tablets }).forEach((pack, tablet) => {
    ;(packs[pack] ??= []).push(tablet + 1)
  })
  return packs
}

/**
 * Which picks are equal: one class number a pick, from 0 in the order in which the classes first come.
 * @example picks 2F, 2B, 2F, 2F: Int32Array [0, 1, 0, 0]
 */
export function classPicks({ tablets, picks, turns }: Turning): Int32Array {
  const classes = toClasses(turns, { items: picks, next: tablets }, { items: tablets, next: 1 })
  const renumbered = new Map<number, number>()
  return classes.map((one) => {
    if (!renumbered.has(one)) renumbered.set(one, renumbered.size)
    return renumbered.get(one)!
  })
}

/**
 * How many different picks there are to learn: lines of the turning that are not the same as an earlier one.
 * @example picks 2F, 2B, 2F, 2F: 2
 */
export function countDistinctPicks({ tablets, picks, turns }: Turning): number {
  return new Set(toClasses(turns, { items: picks, next: tablets }, { items: tablets, next: 1 })).size
}

interface Axis {
  readonly items: number
  /** How far the next item lies in the array. */
  readonly next: number
}

/**
 * Sorts rows or columns into classes of equal ones: all begin in one class, and each step splits the classes by the
 * turn found there. One look at every turn and a small table, where comparing each with each would take for ever.
 */
function toClasses(turns: Int8Array, along: Axis, steps: Axis): Int32Array {
  const classes = new Int32Array(along.items)
  const table = new Int32Array(along.items * 5)
  let count = 1
  for (let step = 0; step < steps.items && count < along.items; step++) {
    table.fill(-1, 0, count * 5)
    count = 0
    for (let item = 0; item < along.items; item++) {
      const slot = classes[item]! * 5 + turns[step * steps.next + item * along.next]! + 2
      if (table[slot]! < 0) table[slot] = count++
      classes[item] = table[slot]!
    }
  }
  return classes
}
