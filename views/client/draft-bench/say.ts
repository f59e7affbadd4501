import { HOLES } from '../../../shared/draft/draft.ts'
import { sayBlock, sayTurn } from '../../../shared/draft/edit/turn-edit.ts'
import { sayCount } from '../../../shared/draft/number-words.ts'
import type { Desk, Place } from './desk.ts'

/** One turn of the band in words: `Tablet 6, pick 14: forward, hole C, madder`. */
export function sayPlace({ bench, live }: Desk, { tablet, pick }: Place): string {
  const cell = pick * bench.turning.tablets + tablet
  const hole = live.woven.face[cell]!
  const key = hole < 0 ? undefined : bench.tablets[tablet]!.holes[hole]
  const shows =
    hole < 0
      ? 'nothing shows yet'
      : key
        ? `hole ${HOLES[hole]}, ${bench.colours[key]!.name || key}`
        : `hole ${HOLES[hole]}, empty`
  return `Tablet ${tablet + 1}, pick ${pick + 1}: ${sayTurn(bench.turning.turns[cell]!)}, ${shows}`
}

/** What is marked, in words; a single turn is not said twice. */
export function sayMark(desk: Desk): string {
  const { tablets, from, to } = desk.block
  const turns = tablets.length * (to - from + 1)
  if (turns === 1) return `${sayPlace(desk, desk.mark.cursor)}.`
  return `${sayPlace(desk, desk.mark.cursor)}. Marked: ${sayBlock(desk.block)}, ${sayCount(turns, 'turn')}.`
}
