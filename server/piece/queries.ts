import type { Selectable } from 'kysely'
import { pieceStatus } from '../../shared/work/status.ts'
import type { CountSystem } from '../../shared/yarn/count.ts'
import { toBin } from '../bin/queries.ts'
import { requireUnchanged } from '../conflict/stale.ts'
import type { Db } from '../db/open.ts'
import type { PieceRow, PieceYarnRow } from '../db/tables.ts'
import { isOwn, readable } from '../rights/readable.ts'
import { currentMemberId, currentViewer } from '../rights/viewer.ts'
import type { PieceForm } from './form.ts'
import type { PieceYarn } from './yarn-form.ts'

/** One woven reconstruction, without its yarns: `listPieceYarns` has them. */
export interface Piece extends Omit<PieceForm, 'yarns'> {
  readonly id: number
  /** What is true of it by its days, and since when. */
  readonly status: ReturnType<typeof pieceStatus>
  readonly demo: boolean
}

export function findPiece(db: Db, id: number): Piece | undefined {
  const row = db.first(db.sql.selectFrom('piece').selectAll().where('id', '=', id).where(readable('piece')))
  return row && toPiece(row)
}

/** Every piece by name. */
export function listPieces(db: Db): Piece[] {
  return db
    .all(db.sql.selectFrom('piece').selectAll().where(readable('piece')).orderBy('name').orderBy('id'))
    .map(toPiece)
}

/** The yarns of a piece, in the order in which they were entered. */
export function listPieceYarns(db: Db, pieceId: number): PieceYarn[] {
  const query = db.sql.selectFrom('piece_yarn').selectAll().where('piece_id', '=', pieceId)
  return db.all(query.orderBy('position')).map(toYarn)
}

/** Who made the viewer's piece that was entered last: most likely the maker of the next one. */
export function findLastMaker(db: Db): string {
  const query = db.sql.selectFrom('piece').select('maker').where(isOwn('piece')).where(readable('piece'))
  const viewer = currentViewer()
  return db.first(query.orderBy('id', 'desc').limit(1))?.maker ?? (viewer.kind === 'member' ? viewer.name : '')
}

export function insertPiece(db: Db, form: PieceForm, at: string, demo: 0 | 1 = 0): number {
  return db.write(() => {
    const { id } = db.run(
      db.sql
        .insertInto('piece')
        .values({ ...toRow(form), demo, owner_id: currentMemberId(), created_at: at, updated_at: at }),
    )
    insertYarns(db, id, form.yarns)
    return id
  })
}

/** Also puts the yarns in the place of those before. @returns false when there is no such piece */
export function updatePiece(db: Db, id: number, form: PieceForm, at: string): boolean {
  return db.write(() => {
    requireUnchanged(db, 'piece', id)
    const set = { ...toRow(form), updated_at: at }
    const { changes } = db.run(
      db.sql
        .updateTable('piece')
        .set((e) => ({ ...set, version: e('version', '+', 1) }))
        .where('id', '=', id),
    )
    if (changes === 0) return false
    db.run(db.sql.deleteFrom('piece_yarn').where('piece_id', '=', id))
    insertYarns(db, id, form.yarns)
    return true
  })
}

/** Puts a piece on another revision, all else of it as it was. */
export function setPieceRevision(db: Db, id: number, revisionId: number, at: string): void {
  const update = db.sql
    .updateTable('piece')
    .set((e) => ({ draft_revision_id: revisionId, updated_at: at, version: e('version', '+', 1) }))
  db.run(update.where('id', '=', id))
}

/** Puts a piece in the bin with its yarns, its sittings and every claim about it. @returns false when there is no such piece */
export function deletePiece(db: Db, id: number, at: string): boolean {
  return toBin(db, 'piece', id, at)
}

/** How many claims rest on a piece, withdrawn ones included: what would go with it. */
export function countPieceClaims(db: Db, id: number): number {
  const query = db.sql.selectFrom('claim').select((e) => e.fn.countAll<number>().as('claims'))
  return db.first(query.where('piece_id', '=', id))?.claims ?? 0
}

function insertYarns(db: Db, pieceId: number, yarns: readonly PieceYarn[]): void {
  yarns.forEach(({ role, yarn, count, countSystem, ply, colourKey, lotId }, position) => {
    const row = { piece_id: pieceId, position, role, yarn, count: count ?? null, ply, lot_id: lotId ?? null }
    db.run(db.sql.insertInto('piece_yarn').values({ ...row, count_system: countSystem, colour_key: colourKey }))
  })
}

function toRow(form: PieceForm) {
  const { name, maker, notes } = form
  return {
    ...{ name, maker, notes, for_whom: form.forWhom, went_wrong: form.wentWrong },
    original_id: form.originalId ?? null,
    draft_revision_id: form.draftRevisionId ?? null,
    planned_on: form.plannedOn ?? null,
    on_loom_on: form.onLoomOn ?? null,
    woven_on: form.wovenOn ?? null,
    finished_on: form.finishedOn ?? null,
    set_aside_on: form.setAsideOn ?? null,
    set_aside_reason: form.setAsideReason,
  }
}

/** A row of the table as a piece; for queries of other nouns that select whole pieces. */
export function toPiece(row: Selectable<PieceRow>): Piece {
  const { id, name, maker, notes } = row
  const days = {
    plannedOn: row.planned_on ?? undefined,
    onLoomOn: row.on_loom_on ?? undefined,
    wovenOn: row.woven_on ?? undefined,
    finishedOn: row.finished_on ?? undefined,
    setAsideOn: row.set_aside_on ?? undefined,
  }
  return {
    ...{ id, name, maker, notes, forWhom: row.for_whom, wentWrong: row.went_wrong },
    originalId: row.original_id ?? undefined,
    draftRevisionId: row.draft_revision_id ?? undefined,
    ...days,
    setAsideReason: row.set_aside_reason,
    status: pieceStatus(days),
    demo: row.demo === 1,
  }
}

function toYarn({ role, yarn, count, count_system, ply, colour_key, lot_id }: Selectable<PieceYarnRow>): PieceYarn {
  return {
    ...{ role, yarn, count: count ?? undefined, countSystem: count_system as CountSystem, ply, colourKey: colour_key },
    lotId: lot_id ?? undefined,
  }
}
