import { type Draft, MOST_PICKS, MOST_TABLETS } from './draft.ts'
import { readPickLine } from './pick-line.ts'
import type { Turning } from './woven.ts'

/** What is wrong with one line of a turning. Picks and columns (characters of the line) are counted from 1. */
export interface TurningProblem {
  readonly pick: number
  readonly column?: number
  /** Names the pick: `Pick 3: 5 tablets found, 6 needed.` */
  readonly message: string
}

export type ReadTurning =
  | { readonly ok: true; readonly turning: Turning }
  | { readonly ok: false; readonly problems: readonly TurningProblem[] }

/** How many problems are listed before reading stops: enough to mend by, too few to fill a screen. Our own. */
export const MOST_PROBLEMS = 50

/**
 * Reads the text form of a turning, one line a pick, runs of tablets from tablet 1 on.
 * Lower case, extra spaces, commas and runs without a space between (`3F3B`) are taken; anything else is not.
 * @param lines one line a pick, pick 1 first, at most 20,000
 * @param tablets how many tablets each line must turn, 1 to 400
 * @returns the turning, or every problem (the first 50) with its pick and column
 * @throws RangeError when tablets is not a whole number from 1 to 400
 * @example readTurning(['6F', '2F 2B 2F', '1F 1I 4(2F)'], 6)
 * @example readTurning(['5F'], 6) // { ok: false, problems: [{ pick: 1, column: 3, message: 'Pick 1: 5 tablets found, …
 * Source: our own text form, in the words of the trade.
 */
export function readTurning(lines: readonly string[], tablets: number): ReadTurning {
  if (!Number.isInteger(tablets) || tablets < 1 || tablets > MOST_TABLETS) {
    throw new RangeError(`tablets must be a whole number from 1 to ${MOST_TABLETS}, got ${tablets}`)
  }
  if (lines.length > MOST_PICKS) {
    const message = `${lines.length} picks found, at most ${MOST_PICKS} can be read.`
    return { ok: false, problems: [{ pick: MOST_PICKS + 1, message }] }
  }
  const turns = new Int8Array(lines.length * tablets)
  const problems: TurningProblem[] = []
  for (let pick = 0; pick < lines.length && problems.length < MOST_PROBLEMS; pick++) {
    for (const { column, message } of readPickLine(lines[pick]!, tablets, turns, pick * tablets)) {
      problems.push({ pick: pick + 1, column, message: `Pick ${pick + 1}: ${message}` })
    }
  }
  if (problems.length > 0) return { ok: false, problems: problems.slice(0, MOST_PROBLEMS) }
  return { ok: true, turning: { tablets, picks: lines.length, turns } }
}

/**
 * The turning of a draft that is already known to be good, one that `readDraft` has returned.
 * @throws RangeError naming the first problem when the draft's picks cannot be read after all
 * @example turningOf({ …, tablets: [one], picks: ['1F', '1B'] }).turns // Int8Array [1, -1]
 */
export function turningOf(draft: Draft): Turning {
  const read = readTurning(draft.picks, draft.tablets.length)
  if (!read.ok) throw new RangeError(`draft.picks cannot be read: ${read.problems[0]!.message}`)
  return read.turning
}

const TURN_WORDS = new Map([
  [1, 'F'],
  [-1, 'B'],
  [0, 'I'],
  [2, '(2F)'],
  [-2, '(2B)'],
])

/**
 * Writes a turning as text, one line a pick, in the fewest runs.
 * @returns as many lines as the turning has picks
 * @throws RangeError when a turn is none of 1, -1, 0, 2, -2, or the turning does not have picks x tablets turns
 * @example writeTurning({ tablets: 3, picks: 1, turns: Int8Array.of(1, 1, -2) }) // ['2F 1(2B)']
 */
export function writeTurning(turning: Turning): string[] {
  const { tablets, picks, turns } = turning
  if (turns.length !== tablets * picks) {
    throw new RangeError(`turning.turns must hold ${picks} x ${tablets} turns, got ${turns.length}`)
  }
  const lines: string[] = []
  for (let from = 0; from < turns.length; from += tablets) {
    const runs: string[] = []
    for (let at = from, end = from + tablets; at < end;) {
      const turn = turns[at]!
      const word = TURN_WORDS.get(turn)
      if (word === undefined) throw new RangeError(`turning.turns[${at}] must be from -2 to 2, got ${turn}`)
      const began = at
      while (at < end && turns[at] === turn) at++
      runs.push(`${at - began}${word}`)
    }
    lines.push(runs.join(' '))
  }
  return lines
}
