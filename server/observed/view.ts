import { countLegible } from '../../shared/draft/infer/observed.ts'
import { dayInWords } from '../../shared/work/time-words.ts'
import type { Db } from '../db/open.ts'
import { findDraft } from '../draft/queries.ts'
import { findRevisionById } from '../draft/revision-queries.ts'
import { viewerMayEdit } from '../rights/allowed.ts'
import { listObserved, type Observed, type ObservedSubject } from './queries.ts'

/** The observed faces of an original or a piece, as the part `observed` shows them on its page. */
export interface ObservedListView {
  readonly faces: readonly ObservedItemView[]
  /** Where one is read off a photograph; empty for who may not. */
  readonly newPath: string
  readonly noun: string
}

export interface ObservedItemView {
  readonly path: string
  readonly name: string
  readonly size: string
  readonly legible: string
  readonly comparison: string
}

export function observedListView(db: Db, subject: ObservedSubject): ObservedListView {
  return {
    faces: listObserved(db, subject).map((observed) => ({
      path: `/observed/${observed.id}`,
      name: nameOf(observed),
      size: sizeInWords(observed),
      legible: legibleInWords(observed),
      comparison: comparisonInWords(db, observed),
    })),
    newPath: viewerMayEdit(db, subject.noun, subject.id) ? `/observed/new?${subject.noun}=${subject.id}` : '',
    noun: subject.noun,
  }
}

/** "Left half, seen on 3 May 2026": its note, and when. */
export function nameOf({ note, observedOn }: Observed): string {
  const [first = ''] = note.split('\n')
  const short = first.length > 80 ? `${first.slice(0, 79)}…` : first
  const when = observedOn === undefined ? '' : `seen on ${dayInWords(observedOn)}`
  const name = [short, when].filter(Boolean).join(', ')
  return name === '' ? 'Observed face' : name.charAt(0).toUpperCase() + name.slice(1)
}

const count = (n: number, one: string) => `${n.toLocaleString('en-GB')} ${one}${n === 1 ? '' : 's'}`

export const sizeInWords = ({ face }: Observed): string =>
  `${count(face.cells[0]!.length, 'tablet')}, ${count(face.cells.length, 'pick')}`

export function legibleInWords({ face }: Observed): string {
  const { cells, legible } = countLegible(face)
  return `${legible.toLocaleString('en-GB')} of ${count(cells, 'cell')} legible`
}

/** What is known of the way the stitches lean: only that tells S from Z. */
export function slantsInWords({ face }: Observed): string {
  const { cells, slants } = countLegible(face)
  return slants === 0
    ? 'None read: in a draft worked out from it, S and Z of the tablets are a guess.'
    : `${slants.toLocaleString('en-GB')} of ${count(cells, 'cell')} legible`
}

/** "7 of 1,512 legible cells differ from Ladder, revision 2: 4.6 per 1,000." Empty where nothing was compared. */
export function comparisonInWords(db: Db, { comparison, face }: Observed): string {
  if (!comparison) return ''
  const { legible } = countLegible(face)
  const draft = draftInWords(db, comparison.revisionId)
  if (legible === 0) return `No cell is legible, so nothing can be said beside ${draft}.`
  const { length } = comparison.differing
  if (length === 0) return `None of ${count(legible, 'legible cell')} differs from ${draft}.`
  const share = ((1000 * length) / legible).toPrecision(2)
  const differ = length === 1 ? 'differs' : 'differ'
  const rate = Number(share) >= 100 ? Math.round((1000 * length) / legible).toLocaleString('en-GB') : share
  return `${length.toLocaleString('en-GB')} of ${count(legible, 'legible cell')} ${differ} from ${draft}: ${rate} per 1,000.`
}

export function draftInWords(db: Db, revisionId: number | undefined): string {
  const revision = revisionId === undefined ? undefined : findRevisionById(db, revisionId)
  const draft = revision && findDraft(db, revision.draftId)
  return revision && draft ? `${draft.title}, revision ${revision.number}` : 'a draft that cannot be shown here'
}
