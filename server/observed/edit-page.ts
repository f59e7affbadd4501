import type { TextProblem } from '../../shared/draft/entry-line.ts'
import { STATES } from '../../shared/measure/claim-word.ts'
import type { Revision, RevisionChoice } from '../draft/revision-queries.ts'
import { formFields, problemList, type FieldSpec, type FieldView } from '../field.ts'
import type { Problems } from '../form.ts'
import type { PageHead } from '../pages.ts'
import type { PictureView } from '../photo/view.ts'
import type { ObservedEntered } from './form.ts'
import type { Observed } from './queries.ts'
import { nameOf } from './view.ts'

declare module '../pages.ts' {
  interface Pages {
    'observed/edit': ObservedEditPage
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
