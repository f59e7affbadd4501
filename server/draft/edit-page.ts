import { fromFrame } from '../../shared/draft/convention/convert.ts'
import { type Written, writtenText } from '../../shared/draft/convention/written.ts'
import { type EntryProblem, writeDraftEntry } from '../../shared/draft/entry/draft-entry.ts'
import { blankConvention } from '../convention/form.ts'
import { type ConventionFormView, conventionFormView, conventionProblems } from '../convention/view.ts'
import { formFields, type FieldView, problemList } from '../field.ts'
import type { PageHead } from '../pages.ts'
import { AS_CARD, LINES, NOTES, type Originals, originalSpec, REVISION_NOTE, TITLE, WEFT } from './fields.ts'
import type { DraftEntered, DraftForm } from './form.ts'
import { type PreviewView, previewOf } from './preview.ts'
import type { NotebookDraft } from './queries.ts'
import type { Revision } from './revision-queries.ts'

declare module '../pages.ts' {
  interface Pages {
    'draft/edit': DraftEditPage
  }
}

/** A field of several lines whose problems have a line and a character. */
interface TypedLinesView {
  readonly name: string
  readonly label: string
  readonly hint: string
  readonly rows: number
  readonly value: string
  readonly problems: readonly { place: string; message: string }[]
}

interface DraftEditPage extends PageHead {
  readonly action: string
  readonly back: string
  /** A revision of a draft has no title, notes and original of its own. */
  readonly isNew: boolean
  readonly saveLabel: string
  readonly startedFrom: string
  /** Why nothing was kept: nothing differs, or somebody else saved a revision meanwhile. */
  readonly unkept: string
  readonly fields: Record<'title' | 'weft' | 'notes' | 'original' | 'note' | 'asCard', FieldView>
  /** Of a new draft; empty for a revision. */
  readonly convention: ConventionFormView | ''
  /** Of a revision of a draft with a card: the card for the live picture, and the form written as the card says. */
  readonly card: string
  readonly asCardPath: string
  readonly colours: TypedLinesView
  readonly threading: TypedLinesView
  readonly turning: TypedLinesView
  readonly problems: readonly { href: string; text: string }[]
  readonly preview: PreviewView
}

export const BLANK_DRAFT: DraftEntered = {
  ...{ title: '', colours: 'm madder #9c3b2e\nw undyed #e9dfc8', weft: 'm' },
  ...{ threading: '', turning: '', notes: '', original: '', note: '', asCard: '' },
}

/** A new form as it first opens. */
export const blankDraftForm = (originalId: string): DraftForm => ({
  ...{ problems: {}, convention: blankConvention(), read: undefined, value: undefined, drawOnly: false },
  entered: { ...BLANK_DRAFT, original: originalId },
})

/** What a revision's form begins with: the words of the draft that it changes, in our frame or as its card says. */
export function enteredOf({ draft }: Pick<Revision, 'draft'>, as?: Written): DraftEntered {
  const entered = { ...BLANK_DRAFT, ...writeDraftEntry(as?.kind === 'card' ? fromFrame(draft, as.card) : draft) }
  return as?.kind === 'card' ? { ...entered, asCard: 'yes' } : entered
}

/** New, a further revision, drawn and shown again: one page, so that none forgets a field. */
export function draftEditPage(
  form: DraftForm,
  originals: Originals,
  revised?: { draft: NotebookDraft; number: number; newest: number; same?: boolean; meanwhile?: number },
): DraftEditPage {
  const { entered } = form
  const draftProblems = form.read?.ok === false ? form.read.problems : []
  const weftProblem = draftProblems.find(({ field }) => field === 'weft')?.message
  const specs = {
    ...{ title: TITLE, weft: WEFT, notes: NOTES, original: originalSpec(originals), note: REVISION_NOTE },
    asCard: AS_CARD,
  }
  const fields = formFields(specs, entered, { ...form.problems, ...(weftProblem ? { weft: weftProblem } : {}) })
  const typed = (name: keyof typeof LINES) => typedLines(name, entered[name], draftProblems)
  const views = { colours: typed('colours'), threading: typed('threading'), turning: typed('turning') }
  const card = revised?.draft.written.kind === 'card' ? revised.draft.written : undefined
  const problems = [
    ...problemList(fields),
    ...Object.values(views).flatMap(linesProblem),
    ...(revised ? [] : conventionProblems(form.convention)),
  ]
  return {
    title: revised ? `New revision of ${revised.draft.title}` : 'New draft',
    section: 'drafts',
    scripts: ['draft-edit'],
    action: revised
      ? `/drafts/${revised.draft.id}/revisions?from=${revised.number}&newest=${revised.newest}`
      : '/drafts',
    back: revised ? `/drafts/${revised.draft.id}` : '/drafts',
    isNew: !revised,
    saveLabel: revised ? 'Save as new revision' : 'Save draft',
    startedFrom: revised ? sayStart(revised) : '',
    unkept: revised ? sayUnkept(revised) : '',
    fields,
    convention: revised ? '' : conventionFormView(form.convention),
    card: card ? writtenText(card) : '',
    asCardPath:
      card && entered.asCard === '' ? `/drafts/${revised!.draft.id}/edit?revision=${revised!.number}&as=card` : '',
    ...views,
    problems,
    preview: previewOf(form.read),
  }
}

function sayUnkept({ newest, same, meanwhile }: { newest: number; same?: boolean; meanwhile?: number }): string {
  if (same) return `Nothing differs from revision ${newest}, so no new revision was made.`
  if (meanwhile === undefined) return ''
  const saved = meanwhile === newest ? `Revision ${newest} was` : `Revisions ${meanwhile} to ${newest} were`
  return `${saved} saved while your form stood open, so yours is not kept yet. Look at it first; saving once more keeps yours as revision ${newest + 1}, and the others stay.`
}

const sayStart = ({ number, newest }: { number: number; newest: number }) =>
  number === newest
    ? `It begins with revision ${number}, which stays as it is.`
    : `It begins with the older revision ${number}; the newest is ${newest}, and both stay as they are.`

function typedLines(name: keyof typeof LINES, value: string, problems: readonly EntryProblem[]): TypedLinesView {
  const own = problems.filter(({ field }) => field === name)
  return { name, ...LINES[name], value, problems: own.map((problem) => ({ place: sayPlace(problem), ...problem })) }
}

const sayPlace = ({ line, column }: Pick<EntryProblem, 'line' | 'column'>) => `Line ${line}, character ${column}`

function linesProblem({ name, label, problems }: TypedLinesView): { href: string; text: string }[] {
  const [first] = problems
  if (!first) return []
  const more = problems.length > 1 ? ` And ${problems.length - 1} more.` : ''
  return [{ href: `#f-${name}`, text: `${label}, ${first.place.toLowerCase()}: ${first.message}${more}` }]
}
