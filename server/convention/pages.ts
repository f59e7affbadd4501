import { formFields, type FieldSpec, type FieldView } from '../field.ts'
import type { PageHead } from '../pages.ts'
import type { NotebookDraft } from '../draft/queries.ts'
import type { ConventionForm } from './form.ts'
import { type ConventionFormView, conventionFormView, conventionProblems } from './view.ts'

declare module '../pages.ts' {
  interface Pages {
    'convention/edit': ConventionEditPage
  }
}

interface ConventionEditPage extends PageHead {
  readonly action: string
  readonly back: string
  /** The version of the draft that the form was opened on. */
  readonly opened: string
  /** Why nothing was kept; empty as a rule. */
  readonly unkept: string
  readonly convention: ConventionFormView
  readonly convert: FieldView
  readonly problems: readonly { href: string; text: string }[]
}

const CONVERT: FieldSpec = {
  label: 'Convert the newest revision by this card, as a further revision',
  control: 'tick',
  hint: 'For a draft that was typed in just as its publication writes it. Leave it open where the draft stands in our own frame already. Earlier revisions stay as they are.',
}

export function conventionEditPage(
  draft: NotebookDraft,
  form: ConventionForm,
  { convert = '', isStale = false }: { readonly convert?: string; readonly isStale?: boolean } = {},
): ConventionEditPage {
  return {
    title: `Convention of ${draft.title}`,
    section: 'drafts',
    action: `/drafts/${draft.id}/convention`,
    back: `/drafts/${draft.id}`,
    opened: String(draft.version),
    unkept: isStale
      ? 'The draft was changed while your form stood open, so yours is not kept yet. Look at it first; saving once more keeps yours.'
      : '',
    convention: conventionFormView(form),
    convert: formFields({ convert: CONVERT }, { convert }).convert,
    problems: conventionProblems(form),
  }
}
