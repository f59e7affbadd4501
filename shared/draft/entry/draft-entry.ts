import { type Draft, MOST_PICKS } from '../draft.ts'
import type { TextProblem } from '../entry-line.ts'
import { readPickText, splitPicks } from '../pick-text.ts'
import { writeThreading } from '../threading-text.ts'
import { readThreading } from '../threading.ts'
import { readTurning, turningOf, writeTurning } from '../turning.ts'
import type { Turning } from '../woven.ts'
import { readColourText, writeColourText } from './colour-text.ts'

/** A draft as it is typed: the words of each field of the form. */
export interface DraftEntry {
  readonly title: string
  readonly colours: string
  readonly weft: string
  readonly threading: string
  readonly turning: string
}

export type EntryField = 'colours' | 'weft' | 'threading' | 'turning'

export interface EntryProblem extends TextProblem {
  readonly field: EntryField
}

/** A draft with its turning read, ready to be woven. */
export interface DrawableDraft {
  readonly draft: Draft
  readonly turning: Turning
}

export type ReadDraftEntry =
  | ({ readonly ok: true } & DrawableDraft)
  | {
      readonly ok: false
      /** By field in the order of the form; lines and columns count from 1. */
      readonly problems: readonly EntryProblem[]
      /** The picks before the first one that cannot be read, where there are any: what a live picture can show. */
      readonly begun?: DrawableDraft
    }

/**
 * Reads a whole draft as typed into the form. The turning is looked at only when the threading is right, because the
 * number of tablets comes from there.
 * @returns the draft and its turning; or the problems, with the part that can be drawn already
 * @example a turning whose third line is short: ok false, one problem, and `begun` holds two picks
 */
export function readDraftEntry(entry: DraftEntry): ReadDraftEntry {
  const { colours, problems: ofColours } = readColourText(entry.colours)
  const problems: EntryProblem[] = ofColours.map((problem) => ({ field: 'colours', ...problem }))
  const weft = entry.weft.trim().toLowerCase()
  const weftIsKnown = Object.hasOwn(colours, weft)
  if (!weftIsKnown) problems.push({ field: 'weft', line: 1, column: 1, message: sayWeft(weft) })

  const threading = readThreading(entry.threading, colours)
  if (!threading.ok) {
    problems.push(...threading.problems.map((problem) => ({ field: 'threading' as const, ...problem })))
    return { ok: false, problems }
  }
  const { tablets } = threading
  const base = { title: entry.title.trim(), colours, weft: weftIsKnown ? weft : Object.keys(colours)[0]!, tablets }
  const picked = readPickText(entry.turning, tablets.length)
  if (picked.ok && problems.length === 0) {
    return { ok: true, draft: { ...base, picks: picked.picks }, turning: picked.turning }
  }
  if (picked.ok)
    return { ok: false, problems, begun: { draft: { ...base, picks: picked.picks }, turning: picked.turning } }
  problems.push(
    ...picked.problems.map(({ line, column, message }) => ({ field: 'turning' as const, line, column, message })),
  )
  const { lines, places } = splitPicks(entry.turning)
  const firstBad = picked.problems[0]!.line
  const bad = places.findIndex(({ line }) => line >= firstBad)
  const begun = readTurning(lines.slice(0, Math.min(bad < 0 ? lines.length : bad, MOST_PICKS)), tablets.length)
  if (!begun.ok || begun.turning.picks === 0) return { ok: false, problems }
  return {
    ok: false,
    problems,
    begun: { draft: { ...base, picks: lines.slice(0, begun.turning.picks) }, turning: begun.turning },
  }
}

function sayWeft(weft: string): string {
  return weft === '' ? 'Please give the key of the weft’s colour.' : `No colour has the key “${weft.slice(0, 12)}”.`
}

/**
 * Writes a draft into the words of the form. Equal picks that follow each other stand on one line with `x4`.
 * @throws RangeError when its picks cannot be read
 * @example writeDraftEntry(draft).turning // '2F 2B x4\n4F'
 */
export function writeDraftEntry(draft: Draft): DraftEntry {
  return {
    title: draft.title,
    colours: writeColourText(draft.colours),
    weft: draft.weft,
    threading: writeThreading(draft.tablets),
    turning: foldRepeats(writeTurning(turningOf(draft))).join('\n'),
  }
}

function foldRepeats(lines: readonly string[]): string[] {
  const folded: string[] = []
  for (let from = 0; from < lines.length;) {
    let to = from + 1
    while (lines[to] === lines[from]) to++
    folded.push(to - from === 1 ? lines[from]! : `${lines[from]} x${to - from}`)
    from = to
  }
  return folded
}
