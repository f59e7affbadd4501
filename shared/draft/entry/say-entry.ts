import { sayCount } from '../number-words.ts'
import { boundPicks } from './bound.ts'
import type { DrawableDraft, EntryField, ReadDraftEntry } from './draft-entry.ts'

const FIELDS: Readonly<Record<EntryField, string>> = {
  colours: 'the colours',
  weft: 'the weft',
  threading: 'the threading',
  turning: 'the turning',
}

/**
 * What a draft as typed comes to, in one or two sentences: its size, or where something is wrong.
 * @example sayEntry(readDraftEntry(entry)) // '24 tablets, 72 picks.'
 * @example for a short third line: '1 problem in the turning. Drawn are the first 2 picks.'
 */
export function sayEntry(read: ReadDraftEntry): string {
  if (read.ok) return `${sayCount(read.turning.tablets, 'tablet')}, ${sayCount(read.turning.picks, 'pick')}.`
  const fields = [...new Set(read.problems.map(({ field }) => field))].map((field) => FIELDS[field])
  const last = fields.pop()!
  const where = fields.length > 0 ? `${fields.join(', ')} and ${last}` : last
  const drawn = read.begun === undefined ? 'Nothing can be drawn yet.' : sayBegun(read.begun.turning.picks)
  return `${sayCount(read.problems.length, 'problem')} in ${where}. ${drawn}`
}

const sayBegun = (picks: number) => (picks === 1 ? 'Drawn is the first pick.' : `Drawn are the first ${picks} picks.`)

/**
 * What a picture of a draft as typed leaves out, in one sentence; empty when it shows every pick.
 * @example sayLeftOut(drawable of 400 tablets x 20,000 picks) // 'Picks 1 to 300 of 20000 are drawn; more would …'
 */
export function sayLeftOut(drawable: DrawableDraft): string {
  const { picks } = boundPicks(drawable).turning
  const all = drawable.draft.picks.length
  if (picks === all) return ''
  return `Picks 1 to ${picks} of ${all} are drawn; more would make the picture too heavy.`
}
