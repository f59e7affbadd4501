import type { Db } from '../db/open.ts'
import { formFields, problemList, type FieldView } from '../field.ts'
import type { PageHead } from '../pages.ts'
import { viewerMayEdit } from '../rights/allowed.ts'
import { FORMATS } from '../source-export/write.ts'
import { SOURCE_KINDS } from '../source/form.ts'
import { toReference } from '../source/reference.ts'
import type { Choice, ImportForm } from './form.ts'
import type { Looked } from './look.ts'

declare module '../pages.ts' {
  interface Pages {
    'source-import/show': SourceImportPage
  }
}

interface SourceImportPage extends PageHead {
  readonly document: string
  readonly documentProblem: string
  readonly fields: Record<'format' | 'leaveOut', FieldView>
  readonly problems: readonly { href: string; text: string }[]
  /** Empty before anything was looked at. */
  readonly mark: string
  readonly hasChanged: boolean
  readonly isGuessed: boolean
  readonly formatLabel: string
  readonly summary: string
  readonly canKeep: boolean
  readonly entries: readonly EntryView[]
}

interface EntryView {
  readonly number: number
  readonly place: string
  readonly reference: string
  readonly kind: string
  /** Why it is not taken; empty where it is. */
  readonly problem: string
  readonly lost: readonly string[]
  /** What it seems to be already, and where that stands; empty for a new one. */
  readonly same: string
  readonly samePath: string
  readonly name: string
  readonly choices: readonly { readonly key: Choice; readonly label: string; readonly isChosen: boolean }[]
}

export function sourceImportPage(
  db: Db,
  form?: ImportForm,
  looked: readonly Looked[] = [],
  hasChanged = false,
): SourceImportPage {
  const specs = {
    format: {
      label: 'What it is',
      options: [
        ['', 'as it looks'] as const,
        ...Object.entries(FORMATS).map(([key, { label }]) => [key, label] as const),
      ],
    },
    leaveOut: { label: 'Leave out', hint: 'Numbers of the list above, such as 3, 7-9.' },
  }
  const fields = formFields(specs, form?.entered ?? {}, form?.problems)
  const documentProblem = form?.problems.document ?? ''
  const fresh = looked.filter((entry) => 'form' in entry && !entry.same).length
  const known = looked.filter((entry) => 'form' in entry && entry.same).length
  const refused = looked.filter((entry) => 'problem' in entry).length
  return {
    title: 'Import sources',
    section: 'sources',
    document: form?.entered.document ?? '',
    documentProblem,
    fields,
    problems: [
      ...(documentProblem ? [{ href: '#f-document', text: `File: ${documentProblem}` }] : []),
      ...problemList(fields),
    ],
    mark: form && documentProblem === '' ? form.mark : '',
    hasChanged,
    isGuessed: form?.isGuessed ?? false,
    formatLabel: form ? FORMATS[form.format].label : '',
    summary: [`${fresh} new`, `${known} here already or twice in the file`, `${refused} not understood`].join(', '),
    canKeep: fresh + known > 0,
    entries: looked.map((entry) => entryView(db, entry, form)),
  }
}

function entryView(db: Db, entry: Looked, form: ImportForm | undefined): EntryView {
  const { number, place, lost } = entry
  const head = { number, place, lost, name: `same-${number}` }
  if ('problem' in entry)
    return { ...head, reference: '', kind: '', problem: entry.problem, same: '', samePath: '', choices: [] }
  const shown = { ...head, reference: toReference(entry.form), kind: SOURCE_KINDS[entry.form.kind], problem: '' }
  const { same } = entry
  if (!same) return { ...shown, same: '', samePath: '', choices: [] }
  const isHere = 'source' in same
  const chosen = form?.choiceOf(number) ?? 'leave'
  const offered: readonly (readonly [Choice, string])[] = [
    ['leave', isHere ? 'Leave what is here as it is' : 'Take it once'],
    ...(isHere && viewerMayEdit(db, 'source', same.source.id) ? [['fill', 'Fill in what is blank here'] as const] : []),
    ['add', 'Add it all the same'],
  ]
  return {
    ...shown,
    same: isHere
      ? `Here already, by its ${same.by}: ${same.source.title}`
      : `As entry ${same.number}, by its ${same.by}`,
    samePath: isHere ? `/sources/${same.source.id}` : '',
    choices: offered.map(([key, label]) => ({ key, label, isChosen: key === chosen })),
  }
}
