import type { Json } from '../../shared/archive/canonical.ts'
import { documentText } from '../../shared/draft/document-text.ts'
import { readDraft } from '../../shared/draft/document.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { isTwistNeutral } from '../../shared/draft/twist.ts'
import { weave } from '../../shared/draft/weave.ts'
import type { Db } from '../db/open.ts'
import { readDating } from '../original/dating.ts'
import { CHILDREN, FIELDS, type ArchiveRecord, type Field, type Kind, type Target } from './record.ts'

type Column = string | number | null
export type Row = Readonly<Record<string, Column>>

/** The uid of what a row points at, by its id; null where the archive shall not name it. */
export type UidOf = (target: Target, id: number) => string | null
/** The id of what a record points at, by its uid; null where it is not to be had. */
export type IdOf = (target: Target, uid: string) => number | null

const TABLES: Readonly<Record<Target, string>> = {
  ...{ source: 'source', original: 'original', draft: 'draft', piece: 'piece' },
  ...{ claim: 'claim', sitting: 'sitting', photo: 'photo', observed: 'observed', revision: 'draft_revision' },
  ...{ yarn: 'yarn', lot: 'lot', movement: 'movement', plan: 'plan', loom_step: 'loom_step' },
  fibre_density: 'fibre_density',
  ...{ forecast: 'forecast', quote: 'quote', quote_terms: 'quote_terms' },
  ...{ judgement: 'judgement', decision: 'decision', weighting: 'weighting' },
}
export const tableOf = (target: Target): string => TABLES[target]

/** Rows of one kind by their ids, in the order of their uids. */
export function listRows(db: Db, kind: Kind, ids: readonly number[]): Row[] {
  const query = `select * from ${TABLES[kind]} where id in (select value from json_each(?)) order by uid`
  return db.raw.prepare<[string], Row>(query).all(JSON.stringify(ids))
}

export function toRecord(db: Db, kind: Kind, row: Row, uidOf: UidOf): ArchiveRecord {
  const record = { uid: String(row.uid), ...toValues(FIELDS[kind], row, uidOf) }
  const children = CHILDREN[kind]
  if (!children) return record
  const { key, table, parent, order, fields } = children
  const rows = db.raw.prepare<[number], Row>(`select * from ${table} where ${parent} = ? order by ${order}`)
  return {
    ...record,
    [key]: rows.all(Number(row.id)).map((child) => ({ uid: String(child.uid), ...toValues(fields, child, uidOf) })),
  }
}

function toValues(fields: readonly Field[], row: Row, uidOf: UidOf): Record<string, Json> {
  return Object.fromEntries(fields.map((field) => [field.key, toValue(field, row[field.column] ?? null, uidOf)]))
}

function toValue({ ref, form, key }: Field, stored: Column, uidOf: UidOf): Json {
  if (stored === null) return null
  if (ref) return uidOf(ref, Number(stored))
  if (form === 'flag') return stored === 1
  if (form === 'decimal') return String(stored)
  return key === 'document' ? (JSON.parse(String(stored)) as Json) : stored
}

/** The columns of a record, with those that are worked out from others. */
export function toColumns(
  fields: readonly Field[],
  record: { readonly [key: string]: Json },
  idOf: IdOf,
): Record<string, Column> {
  const columns: Record<string, Column> = {}
  for (const field of fields) columns[field.column] = toColumn(field, record[field.key] ?? null, idOf)
  if ('date_edtf' in columns) Object.assign(columns, yearsOf(String(columns.date_edtf)))
  if ('document' in columns) Object.assign(columns, factsOf(record.document))
  if ('for_whom' in columns) columns.for_whom ??= ''
  if ('supplier' in columns) columns.supplier ??= ''
  return columns
}

function toColumn({ ref, form, key }: Field, value: Json, idOf: IdOf): Column {
  if (value === null) return null
  if (ref) return idOf(ref, String(value))
  if (form === 'flag') return value === true ? 1 : 0
  if (form === 'decimal') return Number(value)
  return key === 'document' ? '' : (value as string | number)
}

function yearsOf(edtf: string): Record<string, Column> {
  const read = edtf === '' ? undefined : readDating(edtf)
  return read?.ok
    ? { earliest_year: read.dating.earliestYear, latest_year: read.dating.latestYear }
    : { earliest_year: null, latest_year: null }
}

function factsOf(input: unknown): Record<string, Column> {
  const read = readDraft(input)
  if (!read.ok) throw new Error(`A draft document that was read before cannot be read: ${read.problems[0]!.message}`)
  const draft: Draft = read.draft
  return {
    document: documentText(draft),
    tablets: draft.tablets.length,
    picks: draft.picks.length,
    twist_neutral: isTwistNeutral(weave(draft, turningOf(draft))) ? 1 : 0,
  }
}

/** Writes one row; the columns are those of our own lists, never of an archive. */
export function insertRow(db: Db, table: string, columns: Readonly<Record<string, Column>>): number {
  const names = Object.keys(columns)
  const query = `insert into ${table} (${names.join(', ')}) values (${names.map(() => '?').join(', ')})`
  return Number(db.raw.prepare(query).run(...Object.values(columns)).lastInsertRowid)
}

export function updateRow(db: Db, table: string, id: number, columns: Readonly<Record<string, Column>>): void {
  const names = Object.keys(columns)
  const query = `update ${table} set ${names.map((name) => `${name} = ?`).join(', ')} where id = ?`
  db.raw.prepare(query).run(...Object.values(columns), id)
}
