import { formFields, problemList, type FieldSpec, type FieldView } from '../field.ts'
import type { Problems } from '../form.ts'
import type { PageHead } from '../pages.ts'
import type { DecisionEntered } from './form.ts'
import type { Decision, DecisionSubject } from './queries.ts'

declare module '../pages.ts' {
  interface Pages {
    'decision/edit': DecisionEditPage
  }
}

interface DecisionEditPage extends PageHead {
  readonly action: string
  readonly subject: { readonly name: string; readonly path: string }
  readonly fields: Record<keyof DecisionEntered, FieldView>
  readonly problems: readonly { href: string; text: string }[]
  /** Empty for a new one. */
  readonly deletePath: string
}

const FIELDS: Record<keyof DecisionEntered, FieldSpec> = {
  question: {
    label: 'What had to be decided',
    required: true,
    hint: 'Which of two readings, which yarn, which way round.',
  },
  decided: { label: 'What was decided', required: true, rows: 3 },
  evidence: { label: 'On what evidence', rows: 3, hint: 'Claims, photographs, trials; also what is only a guess.' },
  considered: { label: 'What else was considered, and why not', rows: 3 },
  onDay: { label: 'Day', type: 'date', required: true },
  decidedBy: { label: 'By whom' },
}

/** New, edit and shown again: one page, so that none forgets a field. */
export function decisionEditPage(
  subject: DecisionSubject & { readonly name: string },
  decision: Pick<Decision, 'id'> | undefined,
  entered: DecisionEntered,
  problems: Problems<DecisionEntered> = {},
): DecisionEditPage {
  const fields = formFields(FIELDS, entered, problems)
  const path = `/${subject.noun}s/${subject.id}`
  return {
    title: decision ? 'Edit decision' : 'New decision',
    section: `${subject.noun}s`,
    action: decision ? `/decisions/${decision.id}` : `${path}/decisions`,
    subject: { name: subject.name, path: `${path}#decisions` },
    fields,
    problems: problemList(fields),
    deletePath: decision ? `/decisions/${decision.id}/delete` : '',
  }
}

export const blankDecision = (today: string, by: string): DecisionEntered => ({
  ...{ question: '', decided: '', evidence: '', considered: '', onDay: today, decidedBy: by },
})
