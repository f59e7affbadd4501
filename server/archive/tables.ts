import { stringify } from 'csv-stringify/sync'
import type { Json } from '../../shared/archive/canonical.ts'
import { LISTS, type Notebook } from './notebook.ts'
import { FIELDS, type ArchiveRecord, type Kind } from './record.ts'

/** What is worth a table: drafts are documents, photographs are pictures. */
export const TABLE_KINDS = [
  'original',
  'claim',
  'piece',
  'sitting',
  'source',
  'yarn',
  'lot',
  'movement',
] as const satisfies readonly Kind[]

/** Fields that point at something, with where its name stands. */
const NAMED: Readonly<Record<string, { kind: Kind; name: string }>> = {
  original: { kind: 'original', name: 'name' },
  piece: { kind: 'piece', name: 'name' },
  source: { kind: 'source', name: 'title' },
  yarn: { kind: 'yarn', name: 'name' },
  lot: { kind: 'lot', name: 'colourName' },
}

/** One kind as a table for a spreadsheet; beside the uid of what a row points at stands its name. */
export function toTable(kind: (typeof TABLE_KINDS)[number], { records }: Notebook): string {
  const names = new Map<string, Json>()
  for (const { kind: of, name } of Object.values(NAMED))
    for (const record of records[of]) names.set(record.uid, record[name] ?? null)
  const keys = FIELDS[kind].map(({ key }) => key)
  const header = ['uid', ...keys.flatMap((key) => (NAMED[key] ? [key, `${key}Name`] : [key]))]
  const cell = (record: ArchiveRecord, key: string) => toCell(record[key] ?? null)
  const rows = records[kind].map((record) => [
    record.uid,
    ...keys.flatMap((key) =>
      NAMED[key] ? [cell(record, key), toCell(names.get(String(record[key])) ?? null)] : [cell(record, key)],
    ),
  ])
  return stringify([header, ...rows], { bom: true, escape_formulas: true, record_delimiter: 'windows' })
}

export const tablePath = (kind: (typeof TABLE_KINDS)[number]): string => `csv/${LISTS[kind]}.csv`

/** The library looks at the first character alone, and a spreadsheet passes over spaces and line feeds before it. */
function toCell(value: Json): string {
  const text = value === null ? '' : typeof value === 'boolean' ? (value ? 'yes' : 'no') : String(value)
  return /^\s+[=+\-@]/.test(text) ? `'${text}` : text
}
