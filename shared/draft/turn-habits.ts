import type { Turning } from './woven.ts'

/**
 * How often each tablet changes between forward and back within the repeat. Idles between two turns are no change, a
 * half turn counts by its direction, and the seam between one repeat and the next is not looked at.
 * @returns one count a tablet
 * @example F F I F B I B F: 2
 */
export function countReversals({ tablets, turns }: Turning): number[] {
  const reversals = new Array<number>(tablets).fill(0)
  const lastTurn = new Int8Array(tablets)
  for (let cell = 0; cell < turns.length; cell++) {
    const turn = turns[cell]!
    if (turn === 0) continue
    const tablet = cell % tablets
    if (turn * lastTurn[tablet]! < 0) reversals[tablet]!++
    lastTurn[tablet] = turn
  }
  return reversals
}

/**
 * The tablets that never turn in the whole repeat, numbered from 1.
 * @example listStillTablets(turning) // [3, 7]
 */
export function listStillTablets({ tablets, turns }: Turning): number[] {
  const turned = new Uint8Array(tablets)
  for (let cell = 0; cell < turns.length; cell++) if (turns[cell] !== 0) turned[cell % tablets] = 1
  return [...turned.keys()].filter((tablet) => turned[tablet] === 0).map((tablet) => tablet + 1)
}

/**
 * Whether every tablet makes an odd number of quarter turns at every pick. While it does, two tablets that began equal
 * or half a turn apart are never a quarter turn apart.
 * @example keepsParity(turning) // false as soon as one tablet idles or makes a half turn once
 */
export function keepsParity({ turns }: Turning): boolean {
  return turns.every((turn) => turn % 2 !== 0)
}
