import type { Selectable } from 'kysely'
import { toBin } from '../bin/queries.ts'
import { requireUnchanged } from '../conflict/stale.ts'
import type { DecisionRow } from '../db/fidelity-tables.ts'
import type { Db } from '../db/open.ts'
import type { DecisionForm } from './form.ts'

/** What a decision was about. */
export interface DecisionSubject {
  readonly noun: 'original' | 'piece'
  readonly id: number
}

/** What was decided, on what evidence, and what else was considered. */
export interface Decision extends DecisionForm {
  readonly id: number
  readonly subject: DecisionSubject
}

export function findDecision(db: Db, id: number): Decision | undefined {
  const row = db.first(db.sql.selectFrom('decision').selectAll().where('id', '=', id).where('deleted_at', 'is', null))
  return row && toDecision(row)
}

/** In the order in which they were made. Whether the page of the subject may be seen is asked before. */
export function listDecisions(db: Db, { noun, id }: DecisionSubject): Decision[] {
  const query = db.sql.selectFrom('decision').selectAll().where('deleted_at', 'is', null)
  const rows = query.where(noun === 'original' ? 'original_id' : 'piece_id', '=', id)
  return db.all(rows.orderBy('on_day').orderBy('id')).map(toDecision)
}

export function insertDecision(db: Db, { noun, id }: DecisionSubject, form: DecisionForm, at: string): number {
  const about = { original_id: noun === 'original' ? id : null, piece_id: noun === 'piece' ? id : null }
  return db.run(db.sql.insertInto('decision').values({ ...about, ...toRow(form), created_at: at, updated_at: at })).id
}

/** @returns false when there is no such decision */
export function updateDecision(db: Db, id: number, form: DecisionForm, at: string): boolean {
  requireUnchanged(db, 'decision', id)
  const set = { ...toRow(form), updated_at: at }
  const query = db.sql.updateTable('decision').set((e) => ({ ...set, version: e('version', '+', 1) }))
  return db.run(query.where('id', '=', id)).changes === 1
}

export const deleteDecision = (db: Db, id: number, at: string): boolean => toBin(db, 'decision', id, at)

const toRow = ({ question, decided, evidence, considered, onDay, decidedBy }: DecisionForm) => ({
  ...{ question, decided, evidence, considered, on_day: onDay, decided_by: decidedBy },
})

function toDecision(row: Selectable<DecisionRow>): Decision {
  const { id, question, decided, evidence, considered } = row
  const subject: DecisionSubject =
    row.original_id === null ? { noun: 'piece', id: row.piece_id! } : { noun: 'original', id: row.original_id }
  return { ...{ id, subject, question, decided, evidence, considered }, onDay: row.on_day, decidedBy: row.decided_by }
}
