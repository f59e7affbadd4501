import { sayNumbers } from '../draft/number-words.ts'
import { writeTurning } from '../draft/turning.ts'

/** How turns are told to the reader: the sign they get, and from which of the reader's sides tablet 1 counts. */
export interface Telling {
  readonly turnSign: 1 | -1
  readonly reversesTablets: boolean
  readonly from: 'left' | 'right'
}

export const OUR_TELLING: Telling = { turnSign: 1, reversesTablets: false, from: 'left' }

/** Neighbouring tablets that turn alike, in the reader's order. */
export interface ToldRun {
  readonly count: number
  /** `F`, `B`, `I`, `2F` or `2B`. */
  readonly turn: string
  /** For the ear and for those who want a word: `forward`. */
  readonly word: string
}

const TURN_WORDS: Readonly<Record<string, string>> = {
  F: 'forward',
  B: 'back',
  I: 'idle',
  '2F': 'half forward',
  '2B': 'half back',
}

/** A row of our frame as the reader counts it. */
export const toReader = (row: Int8Array, { turnSign, reversesTablets }: Telling): Int8Array => {
  const told = row.map((turn) => turn * turnSign)
  return reversesTablets ? told.reverse() : told
}

/**
 * One pick as counts from the reader's tablet 1 on.
 * @param row turns as the reader counts them
 * @example runsOf(Int8Array.of(1, 1, -1)) // 2 forward, 1 back
 */
export function runsOf(row: Int8Array): ToldRun[] {
  const [line = ''] = writeTurning({ tablets: row.length, picks: 1, turns: row })
  return line.split(' ').map((run) => {
    const [, count = '', turn = ''] = /^(\d+)\(?(2?[FBI])\)?$/.exec(run) ?? []
    return { count: Number(count), turn, word: TURN_WORDS[turn] ?? '' }
  })
}

/** `2F 3B 2F`, for a line of small type. */
export const sayRuns = (row: Int8Array): string =>
  runsOf(row)
    .map(({ count, turn }) => `${count}${turn}`)
    .join(' ')

/** More packs than this are no help at the loom: they are told as counts alone. Our own bound. */
export const MOST_PACKS = 12

/**
 * Packs of the reader's tablets, in the reader's numbers, in the order of their first tablets.
 * @param packs as `listPacks` gives them, tablets from 1 from the left of our frame
 */
export function toReadersPacks(packs: readonly (readonly number[])[], tablets: number, telling: Telling): number[][] {
  const numberOf = (tablet: number) => (telling.reversesTablets ? tablets + 1 - tablet : tablet)
  return packs
    .map((pack) => pack.map(numberOf).sort((left, right) => left - right))
    .sort((left, right) => left[0]! - right[0]!)
}

/**
 * One pick as packs, which are numbered from the reader's tablet 1 on.
 * @param row turns as the reader counts them
 * @param packs in the reader's numbers; a pack that does not turn as one at this pick is told by its tablets
 * @returns empty where there is one pack, or more than are any help
 * @example sayPacks(Int8Array.of(1, 1, -1), [[1, 2], [3]]) // 'Pack 1 forward, pack 2 back'
 */
export function sayPacks(row: Int8Array, packs: readonly (readonly number[])[]): string {
  if (packs.length < 2 || packs.length > MOST_PACKS) return ''
  const byTurn = new Map<number, number[]>()
  for (const [at, pack] of packs.entries()) {
    const turn = row[pack[0]! - 1]!
    byTurn.set(turn, [...(byTurn.get(turn) ?? []), at + 1])
  }
  const said = [...byTurn].map(
    ([turn, numbers]) => `pack${numbers.length === 1 ? '' : 's'} ${sayNumbers(numbers)} ${wordOf(turn)}`,
  )
  return said.join(', ').replace(/^p/, 'P')
}

const wordOf = (turn: number) => runsOf(Int8Array.of(turn))[0]!.word
