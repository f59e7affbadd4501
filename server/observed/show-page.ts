import { dayInWords } from '../../shared/work/time-words.ts'
import type { Db } from '../db/open.ts'
import { findDraft } from '../draft/queries.ts'
import { findRevisionById } from '../draft/revision-queries.ts'
import type { Html, PageHead } from '../pages.ts'
import { writeColourLines } from './form.ts'
import type { OverPhotoView } from './over-photo.ts'
import type { Observed } from './queries.ts'
import type { ObservedSubjectView } from './edit-page.ts'
import { comparisonInWords, draftInWords, legibleInWords, nameOf, sizeInWords, slantsInWords } from './view.ts'

declare module '../pages.ts' {
  interface Pages {
    'observed/show': ObservedShowPage
  }
}

interface ObservedShowPage extends PageHead {
  readonly id: number
  readonly subject: string
  readonly subjectPath: string
  readonly subjectNoun: string
  readonly size: string
  readonly legible: string
  readonly comparison: string
  readonly shift: string
  readonly draft: { readonly path: string; readonly words: string } | ''
  readonly picture: Html | ''
  readonly photoPath: string
  readonly overPhoto: OverPhotoView | ''
  /** Where it is read again; empty for who may not. */
  readonly againPath: string
  /** Other faces read off the same photograph. */
  readonly others: readonly { path: string; name: string }[]
  readonly facts: readonly { label: string; text: string }[]
  readonly note: string
  readonly colours: readonly { key: string; name: string; hex: string }[]
  readonly differing: readonly { pick: number; tablet: number; seen: string; drafted: string }[]
  readonly moreDiffering: string
  readonly cells: string
  readonly colourLines: string
  readonly originalId: string
  readonly mayEdit: boolean
  readonly mayCreate: boolean
}

const MOST_LISTED = 200

export interface ObservedShown {
  readonly subject: ObservedSubjectView
  readonly picture: Html | ''
  readonly overPhoto: OverPhotoView | undefined
  readonly others: readonly Observed[]
  readonly mayEdit: boolean
  readonly mayCreate: boolean
  readonly notice: string
}

export function observedShowPage(
  db: Db,
  observed: Observed,
  { subject, picture, overPhoto, others, mayEdit, mayCreate, notice }: ObservedShown,
): ObservedShowPage {
  const { comparison, colours } = observed
  const revision = comparison?.revisionId === undefined ? undefined : findRevisionById(db, comparison.revisionId)
  const draft = revision && findDraft(db, revision.draftId)
  const nameOfColour = (key: string) => colours[key]?.name ?? revision?.draft.colours[key]?.name ?? key
  const differing = comparison?.differing ?? []
  const more = differing.length - MOST_LISTED
  return {
    title: nameOf(observed),
    section: `${subject.noun}s`,
    notice,
    id: observed.id,
    subject: subject.name,
    subjectPath: `/${subject.noun}s/${subject.id}`,
    subjectNoun: subject.noun,
    ...{ size: sizeInWords(observed), legible: legibleInWords(observed) },
    comparison: comparisonInWords(db, observed),
    shift: comparison ? sayShift(comparison.shift) : '',
    draft:
      revision && draft
        ? { path: `/drafts/${draft.id}/revisions/${revision.number}`, words: draftInWords(db, revision.id) }
        : '',
    picture,
    photoPath: observed.photoId === undefined ? '' : `/photos/${observed.photoId}`,
    overPhoto: overPhoto ?? '',
    againPath: mayEdit ? `/observed/new?again=${observed.id}` : '',
    others: others.map((other) => ({ path: `/observed/${other.id}`, name: nameOf(other) })),
    facts: [
      { label: 'Seen on', text: observed.observedOn === undefined ? '' : dayInWords(observed.observedOn) },
      { label: 'By', text: observed.observedBy },
      { label: 'Slants', text: slantsInWords(observed) },
    ].filter(({ text }) => text !== ''),
    // What stands in the heading already is not said twice.
    note: /^[^\n]{0,80}$/.test(observed.note) ? '' : observed.note,
    colours: Object.entries(colours).map(([key, { name, hex }]) => ({ key, name, hex })),
    differing: differing.slice(0, MOST_LISTED).map(({ pick, tablet, seen, drafted }) => ({
      ...{ pick, tablet, seen: nameOfColour(seen), drafted: nameOfColour(drafted) },
    })),
    moreDiffering: more > 0 ? `And ${more.toLocaleString('en-GB')} more.` : '',
    cells: observed.cells,
    colourLines: writeColourLines(colours),
    originalId: String(subject.originalId ?? ''),
    mayEdit,
    mayCreate,
  }
}

const sayShift = (shift: number) =>
  shift === 0
    ? 'Pick 1 seen lies at pick 1 of the draft.'
    : `Pick 1 seen lies at pick ${shift + 1} of the draft, its repeats counted on.`
