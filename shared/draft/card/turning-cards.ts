import { requireWhole } from '../../measure/argument.ts'
import { assumed, type ConventionCard } from '../convention/card.ts'
import { fromFrame } from '../convention/convert.ts'
import type { Draft } from '../draft.ts'
import { turningOf, writeTurning } from '../turning.ts'
import type { Turning } from '../woven.ts'

/** One row of a card: picks that follow each other with the same turns. */
export interface CardRow {
  /** Their numbers, from 1, in the order in which they stand on the card. */
  readonly picks: readonly number[]
  /** `2F`, `4B`, `2F`, from the reader's tablet 1 on. */
  readonly runs: readonly string[]
  /** The same by tablet: `1 to 2 forward`, or `all forward`. */
  readonly places: readonly string[]
}

export interface TurningCard {
  /** The first and the last pick on it. */
  readonly from: number
  readonly to: number
  /** From the top of the card. */
  readonly rows: readonly CardRow[]
}

export interface TurningCardsOptions {
  /** The reader's own convention. Where its rows read upward, the first pick of a card stands at its foot. */
  readonly card: ConventionCard
  /** First and last pick, counted from 1. */
  readonly from: number
  readonly to: number
  readonly picksPerCard: number
  /** How many picks of the whole draft stand before this part of it; none unless told. */
  readonly before?: number
}

/** Most picks in one row: as many boxes as stand side by side. */
const MOST_IN_ROW = 4

/**
 * The picks of a draft on cards to weave from, in the reader's own convention.
 * @param draft of our frame
 * @returns the cards in the order of weaving; picks that are alike share a row, four at most
 * @throws RangeError when from, to, picksPerCard or before is no whole number in its place, or the picks cannot be read
 * @example turningCards(draft of 72 picks, { card: OUR_FRAME, from: 1, to: 72, picksPerCard: 12 }) // 6 cards
 */
export function turningCards(
  draft: Draft,
  { card, from, to, picksPerCard, before = 0 }: TurningCardsOptions,
): TurningCard[] {
  requireWhole('from', from, 1)
  requireWhole('to', to, from)
  requireWhole('picksPerCard', picksPerCard, 1)
  requireWhole('before', before, 0)
  if (to > draft.picks.length) throw new RangeError(`to must be at most ${draft.picks.length}, not ${to}`)
  const isUpward = assumed(card).rows === 'upward'
  // Downward, so that picks keep their numbers; a card is turned round as a whole.
  const part = { ...draft, picks: draft.picks.slice(from - 1, to) }
  const turning = turningOf(fromFrame(part, { ...card, rows: 'downward' }))
  const cards: TurningCard[] = []
  for (let first = 0; first < turning.picks; first += picksPerCard) {
    const end = Math.min(first + picksPerCard, turning.picks)
    const rows = rowsOf(turning, first, end, before + from)
    cards.push({
      from: before + from + first,
      to: before + from + end - 1,
      rows: isUpward ? rows.map(upward).reverse() : rows,
    })
  }
  return cards
}

const upward = (row: CardRow): CardRow => ({ ...row, picks: row.picks.toReversed() })

function rowsOf({ tablets, turns }: Turning, first: number, end: number, from: number): CardRow[] {
  const rows: CardRow[] = []
  const lineOf = (pick: number) => turns.subarray(pick * tablets, (pick + 1) * tablets)
  for (let pick = first; pick < end;) {
    const own = lineOf(pick)
    const picks: number[] = []
    while (pick < end && picks.length < MOST_IN_ROW && own.every((turn, at) => turn === lineOf(pick)[at])) {
      picks.push(from + pick)
      pick++
    }
    rows.push({ picks, runs: writeTurning({ tablets, picks: 1, turns: own })[0]!.split(' '), places: placesOf(own) })
  }
  return rows
}

const TURN_SAID = new Map([
  [1, 'forward'],
  [-1, 'back'],
  [0, 'idle'],
  [2, 'half forward'],
  [-2, 'half back'],
])

function placesOf(turns: Int8Array): string[] {
  const places: string[] = []
  for (let at = 0; at < turns.length;) {
    const began = at
    while (at < turns.length && turns[at] === turns[began]) at++
    const said = TURN_SAID.get(turns[began]!)!
    if (at - began === turns.length) return [`all ${said}`]
    const many = at - began
    places.push(`${many === 1 ? at : many === 2 ? `${at - 1}, ${at}` : `${began + 1} to ${at}`} ${said}`)
  }
  return places
}
