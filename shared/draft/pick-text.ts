import { MOST_PICKS, MOST_TABLETS } from './draft.ts'
import { countEntries, type EntryLine, listEntryLines, type TextProblem } from './entry-line.ts'
import { readPickLine } from './pick-line.ts'
import { MOST_PROBLEMS } from './turning.ts'
import type { Turning } from './woven.ts'

/** Where a pick stands in the typed text: its line, and the character at which its runs begin, from 1. */
export interface PickPlace {
  readonly line: number
  readonly column: number
}

export interface SplitPicks {
  /** One plain line a pick, as the draft document wants it. */
  readonly lines: readonly string[]
  /** As long as `lines`. A problem at character c of a pick stands at `column + c - 1` of the text's line. */
  readonly places: readonly PickPlace[]
  /** Numbers that do not fit and repeats that are none; what the runs say is not looked at here. */
  readonly problems: readonly TextProblem[]
}

/**
 * Cuts a typed turning into plain pick lines. Three things may be typed that the document does not hold: a line that
 * ends in `x12` or `×12` stands for 12 equal picks; a line may lead with its pick number, `12:`, which is checked, or
 * with a range, `1-4:`, and then stands for those picks; and from `#` on it is a comment. Empty lines are skipped.
 * @example splitPicks('1-2: 6F\n6B x2 # back') // lines 6F, 6F, 6B, 6B; places on lines 1, 1, 2, 2
 * @example splitPicks('2: 6F') // a problem: this line is numbered 2, but it is pick 1
 * Source: our own shorthand for typing; it is not part of the draft document.
 */
export function splitPicks(text: string): SplitPicks {
  const lines: string[] = []
  const places: PickPlace[] = []
  const problems: TextProblem[] = []
  for (const entry of listEntryLines(text)) {
    const { line, column } = entry
    const { runs, times, timesColumn } = cutRepeat(entry)
    const { count, problem } = countEntries(entry, 'pick', lines.length + 1, times)
    if (problem !== undefined) problems.push({ line, column: entry.numbered!.column, message: problem })
    if (times === 0) {
      problems.push({ line, column: timesColumn, message: 'A line repeated 0 times is no pick.' })
    } else if (lines.length + count > MOST_PICKS) {
      const message = `This line brings the draft to ${lines.length + count} picks; at most ${MOST_PICKS} fit.`
      problems.push({ line, column, message })
      break
    }
    for (let time = 0; time < count; time++) {
      lines.push(runs)
      places.push({ line, column })
    }
    if (problems.length >= MOST_PROBLEMS) break
  }
  return { lines, places, problems }
}

function cutRepeat({ body, column }: EntryLine): { runs: string; times?: number; timesColumn: number } {
  const repeat = /[x×]\s*(\d{1,6})$/i.exec(body)
  if (repeat === null) return { runs: body, timesColumn: column }
  return { runs: body.slice(0, repeat.index).trimEnd(), times: Number(repeat[1]), timesColumn: column + repeat.index }
}

export interface TypedPickProblem extends TextProblem {
  /** The first pick that the line stands for, from 1; left out when no pick can be named. */
  readonly pick?: number
}

export type ReadPickText =
  | { readonly ok: true; readonly picks: readonly string[]; readonly turning: Turning }
  | { readonly ok: false; readonly problems: readonly TypedPickProblem[] }

/**
 * Reads a typed turning, shorthand and all, and points at line and character of the text where it cannot.
 * A line that stands for many picks is read once and complained of once.
 * @param text as typed, see `splitPicks`
 * @param tablets how many tablets each pick must turn, 1 to 400
 * @returns plain pick lines for the document and the turning; or the problems in order of the text, 50 at most
 * @throws RangeError when tablets is not a whole number from 1 to 400
 * @example readPickText('1: 6F\n2: 5F', 6) // problem: line 2, column 6, pick 2, 'Pick 2: 5 tablets found, 6 needed.'
 */
export function readPickText(text: string, tablets: number): ReadPickText {
  if (!Number.isInteger(tablets) || tablets < 1 || tablets > MOST_TABLETS) {
    throw new RangeError(`tablets must be a whole number from 1 to ${MOST_TABLETS}, got ${tablets}`)
  }
  const { lines, places, problems: ofNumbers } = splitPicks(text)
  const problems: TypedPickProblem[] = [...ofNumbers]
  const turns = new Int8Array(lines.length * tablets)
  for (let pick = 0; pick < lines.length; pick++) {
    const at = pick * tablets
    const { line, column } = places[pick]!
    if (pick > 0 && places[pick - 1]!.line === line) {
      turns.copyWithin(at, at - tablets, at)
      continue
    }
    for (const problem of readPickLine(lines[pick]!, tablets, turns, at)) {
      const message = `Pick ${pick + 1}: ${problem.message}`
      problems.push({ line, column: column + problem.column - 1, pick: pick + 1, message })
    }
    if (problems.length >= MOST_PROBLEMS) break
  }
  if (lines.length === 0 && problems.length === 0) {
    problems.push({ line: 1, column: 1, message: 'No pick found; a draft needs at least one.' })
  }
  if (problems.length === 0) return { ok: true, picks: lines, turning: { tablets, picks: lines.length, turns } }
  problems.sort((a, b) => a.line - b.line || a.column - b.column)
  return { ok: false, problems: problems.slice(0, MOST_PROBLEMS) }
}
