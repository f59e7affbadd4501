import { QUESTIONS } from '../../shared/draft/convention/card.ts'
import { QUESTION_WORDS, sayAnswer, sayWritten } from '../../shared/draft/convention/say.ts'
import { readWritten } from '../../shared/draft/convention/written.ts'
import { labelOfField } from '../conflict/nouns.ts'
import type { PageHead } from '../pages.ts'
import type { Owned } from '../rights/readable.ts'
import type { Change } from './queries.ts'

declare module '../pages.ts' {
  interface Pages {
    'history/show': HistoryPage
  }
}

interface HistoryPage extends PageHead {
  readonly name: string
  readonly path: string
  /** The field that the history is narrowed to; empty for all. */
  readonly field: string
  readonly rows: readonly { when: string; who: string; what: string; entries: readonly EntryView[] }[]
  /** Where the older ones stand; empty on the last page. */
  readonly older: string
}

interface EntryView {
  readonly label: string
  readonly path: string
  readonly before: string
  readonly after: string
}

export const PAGE_CHANGES = 100

const ACTIONS = { insert: 'recorded', update: 'changed', delete: 'gone for good' } as const

export interface HistoryRequest {
  readonly noun: Owned
  readonly id: number
  readonly title: string
  readonly changes: readonly Change[]
  readonly field: string
  readonly zone: string
}

export function historyPage({ noun, id, title, changes, field, zone }: HistoryRequest): HistoryPage {
  const path = `/${noun}s/${id}`
  const time = new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium', timeStyle: 'short', timeZone: zone })
  const rows = changes.map(({ at, who, kind, itemId, action, fields }) => {
    if (kind === 'notebook') return { when: time.format(new Date(at)), ...restored(fields, time) }
    const entries = Object.entries(fields).filter(([column]) => field === '' || column === field)
    const whose = kind === noun ? '' : `${labelOfField(kind)} ${itemId}: `
    return {
      when: time.format(new Date(at)),
      who: who || 'the maker',
      what: whose + describe(action, fields),
      entries: entries.map(([column, [before, after]]) => ({
        label: labelOfField(column.replace(/_id$/, '')),
        path: `${path}/history?field=${encodeURIComponent(column)}`,
        before: toWords(before, column),
        after: toWords(after, column),
      })),
    }
  })
  const last = changes.length === PAGE_CHANGES ? changes.at(-1) : undefined
  return {
    title: `History of ${title}`,
    section: noun === 'weighting' ? 'pieces' : `${noun}s`,
    name: title,
    path,
    field: field === '' ? '' : labelOfField(field.replace(/_id$/, '')),
    rows: field === '' ? rows : rows.filter(({ entries }) => entries.length > 0),
    older: last ? `${path}/history?before=${last.id}${field === '' ? '' : `&field=${encodeURIComponent(field)}`}` : '',
  }
}

/** The one entry that is about the whole notebook. */
function restored(fields: Change['fields'], time: Intl.DateTimeFormat) {
  const [safety, backupAt] = fields.restored ?? ['', '']
  const then = time.format(new Date(String(backupAt)))
  const kept = safety === '' ? '' : `; what was there before is kept in the backup ${String(safety)}`
  const who = String(fields.by?.[1] ?? '') || 'the maker'
  return { who, what: `the whole notebook was put back to how it was at ${then}${kept}`, entries: [] }
}

/** Throwing away and taking out again are changes of one column; people call them by their names. */
function describe(action: Change['action'], fields: Change['fields']): string {
  const bin = fields.deleted_at
  if (action === 'update' && bin) return bin[1] === null ? 'taken out of the bin' : 'put in the bin'
  return ACTIONS[action]
}

function toWords(value: unknown, column: string): string {
  const written = column === 'convention' ? readWritten(String(value)) : undefined
  if (written?.kind === 'card') {
    const { card } = written
    return QUESTIONS.map((question) => `${QUESTION_WORDS[question].short}: ${sayAnswer(card, question)}`).join('; ')
  }
  if (written) return sayWritten(written)
  return value === null || value === '' ? 'empty' : String(value)
}
