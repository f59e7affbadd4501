import { z } from 'zod'
import { type ConventionCard, OUR_FRAME } from '../../shared/draft/convention/card.ts'
import { convertEntry } from '../../shared/draft/convention/convert-entry.ts'
import { cardOf, type Written } from '../../shared/draft/convention/written.ts'
import { LONGEST_TITLE } from '../../shared/draft/document-shape.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import { readDraftEntry, type ReadDraftEntry } from '../../shared/draft/entry/draft-entry.ts'
import { blankConvention, type ConventionForm, readConventionForm } from '../convention/form.ts'
import { lines, optionalId, parseForm, type Parsed, type Problems, readEntered, requiredLine } from '../form.ts'
import { note } from '../markdown.ts'
import type { Convention } from './queries.ts'

const titleRule = requiredLine('Please give the draft a title.', LONGEST_TITLE)
const detailsSchema = z.object({ title: titleRule, notes: note(), original: optionalId() })
const revisionSchema = z.object({ note: lines(2000) })

export type DetailsForm = z.output<typeof detailsSchema>
export type DetailsEntered = Record<keyof DetailsForm, string>

/** Whether the notebook has an original with this id. */
type IsOriginal = (id: number) => boolean

/** Title, notes and original: what a draft may change without a new revision. */
export function readDetailsForm(body: unknown, isOriginal: IsOriginal): Parsed<DetailsForm, DetailsEntered> {
  const form = parseForm(body, detailsSchema)
  if (!form.ok || form.value.original === undefined || isOriginal(form.value.original)) return form
  const entered = readEntered(body, Object.keys(detailsSchema.shape) as (keyof DetailsEntered)[])
  return { ok: false, entered, problems: { original: 'This original is not in the notebook any more.' } }
}

const DRAFT_FIELDS = [
  ...(['title', 'colours', 'weft', 'threading', 'turning', 'notes', 'original', 'note'] as const),
  /** Of a revision: ticked where its lines are written as the draft's convention card says. */
  'asCard',
] as const
export type DraftEntered = Record<(typeof DRAFT_FIELDS)[number], string>

/** Every word of the form with what it comes to; the page shows all of it again whether it is good or not. */
export interface DraftForm {
  readonly entered: DraftEntered
  /** Sentences beside the plain fields. */
  readonly problems: Problems<DraftEntered>
  /** How a new draft is written down; of a revision it is blank, for the draft has its card already. */
  readonly convention: ConventionForm
  /** The draft in it, in our frame, or its problems with line and character; undefined while the form is blank. */
  readonly read: ReadDraftEntry | undefined
  /** There when nothing is wrong. */
  readonly value:
    (DetailsForm & { readonly note: string; readonly draft: Draft; readonly convention: Convention }) | undefined
  /** The reader asked for the picture, not to keep anything. */
  readonly drawOnly: boolean
}

/** The form of a new draft. */
export function readDraftForm(body: unknown, isOriginal: IsOriginal): DraftForm {
  const convention = readConventionForm(body)
  const card = convention.value ? cardOf(convention.value.written) : OUR_FRAME
  return readDraftFields(readEntered(body, DRAFT_FIELDS), { body, isOriginal, convention, card })
}

/** The form of a new revision: the draft keeps the title, notes, original and convention that it has. */
export function readRevisionForm(body: unknown, title: string, written: Written): DraftForm {
  const entered = { ...readEntered(body, DRAFT_FIELDS), title, notes: '', original: '' }
  const convention = { ...blankConvention(), value: { written, note: '' } }
  const card = entered.asCard === '' ? OUR_FRAME : cardOf(written)
  return readDraftFields(entered, { body, isOriginal: () => false, convention, card })
}

interface ReadAs {
  readonly body: unknown
  readonly isOriginal: IsOriginal
  readonly convention: ConventionForm
  readonly card: ConventionCard
}

function readDraftFields(entered: DraftEntered, { body, isOriginal, convention, card }: ReadAs): DraftForm {
  const details = readDetailsForm(entered, isOriginal)
  const revision = parseForm(entered, revisionSchema)
  const read = convertEntry(readDraftEntry(entered), card)
  const problems = { ...(details.ok ? {} : details.problems), ...(revision.ok ? {} : revision.problems) }
  const good = details.ok && revision.ok && read.ok && convention.value
  return {
    ...{ entered, problems, convention, read },
    value: good ? { ...details.value, ...revision.value, draft: read.draft, convention: convention.value } : undefined,
    drawOnly: readEntered(body, ['draw']).draw !== '',
  }
}
