import { sayUnsaid } from '../../shared/draft/convention/say.ts'
import type { Written } from '../../shared/draft/convention/written.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import { HOLES } from '../../shared/draft/draft.ts'
import { recover } from '../../shared/draft/recover.ts'
import { type RecoveryWords, sayRecovery } from '../../shared/draft/say-recovery.ts'
import { formFields, type FieldSpec, type FieldView, problemList } from '../field.ts'
import type { PageHead } from '../pages.ts'
import { readRecoverForm, type RecoverEntered } from './form.ts'

declare module '../pages.ts' {
  interface Pages {
    'recover/show': RecoverPage
  }
}

interface RecoverPage extends PageHead {
  readonly id: number
  readonly number: number
  readonly draftTitle: string
  readonly size: string
  readonly fields: Record<keyof RecoverEntered, FieldView>
  readonly answer: (RecoveryWords & { readonly isRight: boolean }) | ''
}

const letters = (empty: string): [string, string][] => [
  ['', empty],
  ...HOLES.map((hole): [string, string] => [hole, hole]),
]

const SPECS: Record<keyof RecoverEntered, FieldSpec> = {
  pick: { label: 'After pick', inputmode: 'numeric', required: true, hint: 'Of the repeat, from 1.' },
  tablet: { label: 'Tablet', inputmode: 'numeric', required: true, hint: 'From the left.' },
  topNear: { label: 'On top, near you', options: letters('look'), required: true },
  topFar: { label: 'On top, away from you', options: letters('look'), required: true },
  rightUntil: {
    label: 'It surely stood right after pick',
    inputmode: 'numeric',
    hint: 'Left out: the pick before. 0 is the start.',
  },
}

/** @param query what was asked; nothing yet when it names no pick */
export function recoverPage(
  shown: { id: number; number: number; title: string; written: Written; draft: Draft },
  query: Readonly<Record<string, unknown>>,
): { page: RecoverPage; status: 200 | 422 } {
  const { draft } = shown
  const asked = query.topNear !== undefined
  const form = readRecoverForm(query, draft.picks.length, draft.tablets.length)
  const entered = Object.fromEntries(Object.keys(SPECS).map((name) => [name, String(query[name] ?? '')]))
  const fields = formFields(SPECS, entered, asked && !form.ok ? form.problems : {})
  const answer = asked && form.ok ? answerOf(draft, form.value) : ''
  const page: RecoverPage = {
    title: `A slip in ${shown.title}`,
    section: 'drafts',
    ...{ id: shown.id, number: shown.number, draftTitle: shown.title, fields, answer },
    size: `Revision ${shown.number}: ${draft.tablets.length} tablets, ${draft.picks.length} picks in the repeat.${sayUnsaid(shown.written)}`,
    problems: problemList(fields),
  }
  return { page, status: asked && !form.ok ? 422 : 200 }
}

function answerOf(draft: Draft, seen: Parameters<typeof recover>[1]): RecoveryWords & { isRight: boolean } {
  const recovery = recover(draft, seen)
  return { ...sayRecovery(draft, seen, recovery), isRight: recovery.verdict === 'right' }
}
