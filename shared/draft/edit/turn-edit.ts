import { MOST_PICKS } from '../draft.ts'
import { sayCount, sayListed, sayPicks } from '../number-words.ts'
import type { Bench, Block } from './bench.ts'
import type { Edit, Refused } from './step.ts'

/** A turn that may be painted: 1 forward, -1 back, 0 idle, 2 and -2 half turns. */
export type Turn = 1 | -1 | 0 | 2 | -2

const TURN_NAMES: Readonly<Record<Turn, string>> = {
  ...{ 1: 'forward', '-1': 'back', 0: 'idle', 2: 'half turn forward', '-2': 'half turn back' },
}

/** The word of a turn: `forward`, `back`, `idle`, `half turn forward`, `half turn back`. */
export const sayTurn = (turn: number): string => TURN_NAMES[turn as Turn]

/** Where a block lies, in words: `tablets 1 to 4, picks 3 to 8`. */
export function sayBlock({ tablets, from, to }: Block): string {
  const numbers = tablets.map((tablet) => tablet + 1)
  return `${sayListed('tablet', numbers)}, ${sayPicks(from + 1, to + 1)}`
}

/** One step with those turns of a block that really change. */
function rewrite(bench: Bench, block: Block, label: string, turnAt: (at: number, pick: number) => number): Edit {
  const { tablets, turns } = bench.turning
  const cells: number[] = []
  const after: number[] = []
  for (let pick = block.from; pick <= block.to; pick++) {
    block.tablets.forEach((tablet, at) => {
      const cell = pick * tablets + tablet
      const turn = turnAt(at, pick)
      if (turns[cell] === turn) return
      cells.push(cell)
      after.push(turn)
    })
  }
  if (cells.length === 0) return { label, steps: [] }
  const before = Int8Array.from(cells, (cell) => turns[cell]!)
  return { label, steps: [{ kind: 'turns', cells: Int32Array.from(cells), before, after: Int8Array.from(after) }] }
}

const turnIn = ({ turning }: Bench, tablet: number, pick: number) => turning.turns[pick * turning.tablets + tablet]!

/**
 * Every turn of a block becomes this one.
 * @returns an edit without steps when all of them are already
 * @example paintBlock(bench, { tablets: [0, 1], from: 3, to: 3 }, -1)
 */
export const paintBlock = (bench: Bench, block: Block, turn: Turn): Edit =>
  rewrite(bench, block, `${sayTurn(turn)}, ${sayBlock(block)}`, () => turn)

/** In a block every turn forward becomes one back, and the other way round. */
export const turnOver = (bench: Bench, block: Block): Edit =>
  rewrite(
    bench,
    block,
    `turned the other way, ${sayBlock(block)}`,
    (at, pick) => -turnIn(bench, block.tablets[at]!, pick),
  )

/** The picks of a block in the opposite order; every turn keeps its direction. */
export const reverseOrder = (bench: Bench, block: Block): Edit =>
  rewrite(bench, block, `opposite order, ${sayBlock(block)}`, (at, pick) =>
    turnIn(bench, block.tablets[at]!, block.from + block.to - pick),
  )

/** The turns of a block mirrored across the band: the first of its tablets turns as the last one did. */
export const mirrorTurns = (bench: Bench, block: Block): Edit =>
  rewrite(bench, block, `mirrored across, ${sayBlock(block)}`, (at, pick) =>
    turnIn(bench, block.tablets[block.tablets.length - 1 - at]!, pick),
  )

/**
 * The turns of a block again and again over the picks after it, to the end of the repeat, for its tablets alone.
 * @example carryOn(bench of 12 picks, { tablets: [0], from: 0, to: 3 }) // picks 5 to 12 of tablet 1 repeat picks 1 to 4
 */
export function carryOn(bench: Bench, block: Block): Edit {
  const rest = { tablets: block.tablets, from: block.to + 1, to: bench.turning.picks - 1 }
  const long = block.to - block.from + 1
  return rewrite(bench, rest, `carried on from ${sayBlock(block)}`, (at, pick) =>
    turnIn(bench, block.tablets[at]!, block.from + ((pick - block.from) % long)),
  )
}

/**
 * Other picks in the place of some.
 * @param at first pick that goes, from 0
 * @param count how many go; none inserts
 * @param turns the new ones, row by row, one turn a tablet
 * @returns refused when no pick or more than 20,000 would be left
 * @example replacePicks(bench, 2, 0, Int8Array.of(1, 1, -1, -1), 'a pick') // inserts a pick before pick 3
 */
export function replacePicks(bench: Bench, at: number, count: number, turns: Int8Array, label: string): Edit | Refused {
  const { tablets, picks } = bench.turning
  const left = picks - count + turns.length / tablets
  if (left < 1) return { why: 'A draft needs at least one pick.' }
  if (left > MOST_PICKS) return { why: `That would be ${left} picks; at most ${MOST_PICKS} fit.` }
  const removed = bench.turning.turns.slice(at * tablets, (at + count) * tablets)
  if (removed.length !== turns.length) return { label, steps: [{ kind: 'picks', at, removed, inserted: turns }] }
  const all = Array.from({ length: tablets }, (_, tablet) => tablet)
  const block = { tablets: all, from: at, to: at + count - 1 }
  return rewrite(bench, block, label, (tablet, pick) => turns[(pick - at) * tablets + tablet]!)
}

/** Picks `from` to `to` as they are, row by row. */
export const rowsOf = ({ turning }: Bench, from: number, to: number): Int8Array =>
  turning.turns.slice(from * turning.tablets, (to + 1) * turning.tablets)

/** Takes picks out; refused when none would be left. */
export const deletePicks = (bench: Bench, from: number, to: number): Edit | Refused =>
  replacePicks(bench, from, to - from + 1, new Int8Array(0), `took out ${sayPicks(from + 1, to + 1)}`)

/** A pick like `like`, put in before pick `at`. */
export const insertPick = (bench: Bench, at: number, like: number): Edit | Refused =>
  replacePicks(bench, at, 0, rowsOf(bench, like, like), `put in a pick before pick ${at + 1}`)

/**
 * Whole picks once more, straight after themselves.
 * @param times how often they are added, at least once
 */
export function repeatPicks(bench: Bench, from: number, to: number, times: number): Edit | Refused {
  const { tablets, picks } = bench.turning
  const rows = (to - from + 1) * times
  if (picks + rows > MOST_PICKS) return { why: `That would be ${picks + rows} picks; at most ${MOST_PICKS} fit.` }
  const block = rowsOf(bench, from, to)
  const added = new Int8Array(rows * tablets)
  for (let time = 0; time < times; time++) added.set(block, time * block.length)
  const often = times === 1 ? 'once' : `${times} times`
  return replacePicks(bench, to + 1, 0, added, `${sayPicks(from + 1, to + 1)} ${often} more`)
}

/**
 * Whole picks woven back after themselves: the last first, every turn the other way. The pattern comes back as in a
 * mirror, and the twist is undone.
 */
export function weaveBack(bench: Bench, from: number, to: number): Edit | Refused {
  const { tablets } = bench.turning
  const rows = rowsOf(bench, from, to)
  const back = new Int8Array(rows.length)
  for (let row = 0; row < rows.length; row += tablets) {
    for (let tablet = 0; tablet < tablets; tablet++) back[rows.length - tablets - row + tablet] = -rows[row + tablet]!
  }
  const label = `${sayPicks(from + 1, to + 1)} woven back, ${sayCount(to - from + 1, 'pick')} more`
  return replacePicks(bench, to + 1, 0, back, label)
}
