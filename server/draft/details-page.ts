import { formFields, type FieldView, problemList } from '../field.ts'
import type { Problems } from '../form.ts'
import type { PageHead } from '../pages.ts'
import { NOTES, type Originals, originalSpec, TITLE } from './fields.ts'
import type { DetailsEntered } from './form.ts'
import type { NotebookDraft } from './queries.ts'

declare module '../pages.ts' {
  interface Pages {
    'draft/details': DraftDetailsPage
  }
}

interface DraftDetailsPage extends PageHead {
  readonly action: string
  readonly back: string
  readonly fields: Record<keyof DetailsEntered, FieldView>
  readonly problems: readonly { href: string; text: string }[]
}

export function draftDetailsPage(
  draft: NotebookDraft,
  entered: DetailsEntered,
  originals: Originals,
  problems: Problems<DetailsEntered> = {},
): DraftDetailsPage {
  const title = { ...TITLE, hint: 'Revisions that are kept already carry the title they had.' }
  const fields = formFields({ title, original: originalSpec(originals), notes: NOTES }, entered, problems)
  return {
    title: `Title and notes of ${draft.title}`,
    section: 'drafts',
    action: `/drafts/${draft.id}`,
    back: `/drafts/${draft.id}`,
    fields,
    problems: problemList(fields),
  }
}
