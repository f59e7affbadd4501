import type { TextProblem } from '../../shared/draft/entry-line.ts'
import { STATES } from '../../shared/measure/claim-word.ts'
import type { Db } from '../db/open.ts'
import { findDraft } from '../draft/queries.ts'
import { findRevisionById, type Revision, type RevisionChoice } from '../draft/revision-queries.ts'
import { formFields, problemList, type FieldSpec, type FieldView } from '../field.ts'
import type { Problems } from '../form.ts'
import type { Html, PageHead } from '../pages.ts'
import type { PictureView } from '../photo/view.ts'
import { dayInWords } from '../../shared/work/time-words.ts'
import type { ObservedEntered } from './form.ts'
import type { OverPhotoView } from './over-photo.ts'
import type { Observed } from './queries.ts'
import {
  comparisonInWords,
  draftInWords,
  legibleInWords,
  nameOf,
  sizeInWords,
  slantsInWords,
  writeColourLines,
} from './view.ts'

declare module '../pages.ts' {
  interface Pages {
    'observed/edit': ObservedEditPage
    'observed/show': ObservedShowPage
  }
}

interface ObservedEditPage extends PageHead {
  /** Where it is kept; empty where the page was opened for nothing in the notebook. */
  readonly action: string
  readonly back: string
  readonly subject: string
  readonly subjectNoun: string
  readonly originalId: string
  readonly claimsPath: string
  readonly photos: readonly { id: number; caption: string; path: string; thumb: string; isChosen: boolean }[]
  readonly revisions: readonly { id: number; label: string; isChosen: boolean; colours: string; tablets: string }[]
  readonly states: readonly { key: string; label: string; isChosen: boolean }[]
  readonly colours: LinesView
  readonly observed: LinesView
  readonly fields: Record<'observedOn' | 'observedBy' | 'note', FieldView>
  /** The photograph chosen, by its id. */
  readonly photo: string
  readonly marks: string
  /** The kept face that is read again. */
  readonly again: { readonly path: string; readonly name: string } | ''
  readonly marksProblem: string
  readonly revisionProblem: string
  readonly problems: readonly { href: string; text: string }[]
}

interface LinesView {
  readonly name: string
  readonly label: string
  readonly hint: string
  readonly rows: number
  readonly value: string
  readonly problems: readonly { place: string; message: string }[]
}

const FIELDS: Record<'observedOn' | 'observedBy' | 'note', FieldSpec> = {
  observedOn: { label: 'Seen on', type: 'date', hint: 'The day on which you looked.' },
  observedBy: { label: 'By whom' },
  note: { label: 'What it shows', rows: 2, hint: 'Which stretch, in which light, how well it can be seen.' },
}

const LINES = {
  colours: {
    label: 'Colours seen',
    rows: 4,
    hint: 'One a line: a short key, the name, and # with six digits.',
  },
  observed: {
    label: 'The face, cell by cell',
    rows: 12,
    hint: 'One pick a line, pick 1 first and nearest the weaver; one key a tablet, tablet 1 at the left. A dot where the colour is not legible. “/” or “\\” after it, where the slant is.',
  },
} as const

export interface ObservedSubjectView {
  readonly noun: 'original' | 'piece'
  readonly id: number
  readonly name: string
  /** The original that a draft worked out from it would belong to. */
  readonly originalId: number | undefined
}

export interface ObservedLists {
  readonly photos: readonly (PictureView & { readonly id: number })[]
  readonly revisions: readonly RevisionChoice[]
  readonly revision: Revision | undefined
  /** A kept face that is read again. */
  readonly again: Observed | undefined
}

export interface ShownAgain {
  readonly problems: Problems<ObservedEntered>
  readonly places: Readonly<Record<'colours' | 'observed', readonly TextProblem[]>>
}

const NOTHING_WRONG: ShownAgain = { problems: {}, places: { colours: [], observed: [] } }

export function observedEditPage(
  subject: ObservedSubjectView | undefined,
  entered: ObservedEntered,
  { photos, revisions, revision, again }: ObservedLists,
  { problems, places }: ShownAgain = NOTHING_WRONG,
): ObservedEditPage {
  const fields = formFields(FIELDS, entered, problems)
  const path = subject ? `/${subject.noun}s/${subject.id}` : ''
  const lines = (name: 'colours' | 'observed'): LinesView => ({
    ...{ name, ...LINES[name], value: entered[name] },
    problems: places[name].map(({ line, column, message }) => ({
      place: `Line ${line}, character ${column}:`,
      message,
    })),
  })
  return {
    title: subject ? `Read off a photograph: ${subject.name}` : 'Read off a photograph',
    section: subject ? `${subject.noun}s` : 'drafts',
    scripts: ['observed'],
    action: path && `${path}/observed`,
    back: path || '/drafts',
    subject: subject?.name ?? '',
    subjectNoun: subject?.noun ?? '',
    originalId: String(subject?.originalId ?? ''),
    claimsPath: path && `${path}/claims`,
    photos: photos.map(({ id, caption, sources, src }) => ({
      ...{ id, caption, thumb: src, path: sources.at(-1)?.path ?? src },
      isChosen: String(id) === entered.photo,
    })),
    revisions: revisions.map(({ id, title, number }) => ({
      id,
      label: number === undefined ? title : `${title}, revision ${number}`,
      isChosen: String(id) === entered.revision,
      colours: id === revision?.id ? JSON.stringify(revision.draft.colours) : '',
      tablets: id === revision?.id ? String(revision.tablets) : '',
    })),
    states: STATES.map(({ key, label }) => ({
      ...{ key, label },
      isChosen: key === (subject?.noun === 'piece' ? 'offTension' : 'asPreserved'),
    })),
    ...{ colours: lines('colours'), observed: lines('observed'), fields },
    ...{ photo: entered.photo, marks: entered.marks },
    again: again ? { path: `/observed/${again.id}`, name: nameOf(again) } : '',
    marksProblem: problems.marks ?? problems.photo ?? '',
    revisionProblem: problems.revision ?? '',
    problems: [
      ...(['colours', 'observed'] as const).flatMap((name) =>
        places[name].slice(0, 3).map(({ line, message }) => ({
          href: `#f-${name}`,
          text: `${LINES[name].label}, line ${line}: ${message}`,
        })),
      ),
      ...problemList(fields),
      ...(problems.revision ? [{ href: '#f-revision', text: `Compare with: ${problems.revision}` }] : []),
      ...(problems.marks || problems.photo
        ? [{ href: '#photograph', text: `The photograph: ${problems.marks ?? problems.photo}` }]
        : []),
    ],
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
