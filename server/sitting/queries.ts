import { sql, type Selectable } from 'kysely'
import { isOwn, readable } from '../rights/readable.ts'
import type { Stage } from '../../shared/work/stage.ts'
import { toBin } from '../bin/queries.ts'
import { requireUnchanged } from '../conflict/stale.ts'
import type { Db } from '../db/open.ts'
import type { SittingRow } from '../db/hours-tables.ts'
import type { SittingForm } from './form.ts'
import type { Origin } from './origin.ts'

/**
 * One stretch of timed work; it is a `StagedSitting`, so that a list of them goes straight into `toPaceSittings` and
 * `hoursByStage`. What an unweaving states is what was undone, above zero.
 */
export interface Sitting extends SittingForm {
  readonly id: number
  readonly pieceId: number
  readonly origin: Origin
  /** What steps or clock said before anybody corrected it. */
  readonly said: Said | undefined
  /** Instants of the first and the last step that it was written from. */
  readonly steps: { readonly from: string; readonly to: string } | undefined
}

/** A sitting as steps or clock had it. */
export interface Said {
  readonly stage: Stage
  readonly startedAt: string
  readonly endedAt: string
  readonly breakMinutes: number
  readonly picks: number | undefined
}

/** What a sitting that was not typed was made from. */
export type MadeFrom =
  | { readonly origin: 'timer'; readonly said: Said }
  | { readonly origin: 'steps'; readonly said: Said; readonly steps: { readonly from: string; readonly to: string } }

/** A sitting of the same maker that shares time with another, whatever piece it is for. */
export interface Overlap {
  readonly id: number
  readonly pieceId: number
  /** Null where the viewer may not see the piece: then the times are not told either. */
  readonly pieceName: string | null
  readonly mayOpen: boolean
  readonly zone: string
  readonly startedAt: string
  readonly endedAt: string
}

export function findSitting(db: Db, id: number): Sitting | undefined {
  const query = db.sql.selectFrom('sitting').selectAll().where('id', '=', id)
  const row = db.first(query.where('deleted_at', 'is', null))
  return row && toSitting(row)
}

/** In the order in which they were worked: by day, then start; one without a start comes last on its day. */
export function listSittings(db: Db, pieceId: number): Sitting[] {
  const query = db.sql.selectFrom('sitting').selectAll().where('piece_id', '=', pieceId).where('deleted_at', 'is', null)
  const inOrder = query.orderBy('day').orderBy('started_at', (order) => order.asc().nullsLast())
  return db.all(inOrder.orderBy('id')).map(toSitting)
}

/** Every sitting of every piece that the viewer may see, with the name of its piece: by piece, then as it was worked. */
export function listAllSittings(db: Db): (Sitting & { readonly pieceName: string })[] {
  const query = db.sql
    .selectFrom('sitting')
    .innerJoin('piece', 'piece.id', 'sitting.piece_id')
    .selectAll('sitting')
    .select('piece.name as pieceName')
    .where('sitting.deleted_at', 'is', null)
    .where(readable('piece'))
  const inOrder = query.orderBy('piece.name').orderBy('piece.id').orderBy('sitting.day')
  return db
    .all(inOrder.orderBy('sitting.started_at', (order) => order.asc().nullsLast()).orderBy('sitting.id'))
    .map(({ pieceName, ...row }) => ({ ...toSitting(row), pieceName }))
}

/**
 * Other sittings of this maker that share a minute with this one. Sittings known by their minutes alone overlap
 * nothing that could be said; one that begins when another ends does not overlap it.
 * @param except the sitting itself, when it is being changed
 */
export function listOverlaps(
  db: Db,
  sitting: Pick<SittingForm, 'maker' | 'startedAt' | 'endedAt'>,
  except?: number,
): Overlap[] {
  const { maker, startedAt, endedAt } = sitting
  if (startedAt === undefined || endedAt === undefined) return []
  return db
    .all(
      db.sql
        .selectFrom('sitting')
        .innerJoin('piece', 'piece.id', 'sitting.piece_id')
        .select([
          'sitting.id',
          'sitting.piece_id as pieceId',
          'sitting.zone',
          'sitting.started_at as startedAt',
          'sitting.ended_at as endedAt',
          sql<string | null>`iif(${readable('piece')}, piece.name, null)`.as('pieceName'),
          isOwn('piece').as('mayOpen'),
        ])
        .where('piece.deleted_at', 'is', null)
        .where((e) => e(e.fn<string>('lower', ['sitting.maker']), '=', e.fn<string>('lower', [e.val(maker)])))
        .where('sitting.deleted_at', 'is', null)
        .where('sitting.started_at', '<', endedAt)
        .where('sitting.ended_at', '>', startedAt)
        .where('sitting.id', '!=', except ?? 0)
        .orderBy('sitting.started_at')
        .orderBy('sitting.id')
        .$narrowType<{ startedAt: string; endedAt: string }>(),
    )
    .map((row) => ({ ...row, mayOpen: Boolean(row.mayOpen) }))
}

/** The latest sitting of a piece, whose stage and breaks the next one is likely to share. */
export function findLastSitting(db: Db, pieceId: number): Sitting | undefined {
  const query = db.sql.selectFrom('sitting').selectAll().where('piece_id', '=', pieceId).where('deleted_at', 'is', null)
  const row = db.first(query.orderBy('day', 'desc').orderBy('id', 'desc').limit(1))
  return row && toSitting(row)
}

export function insertSitting(db: Db, pieceId: number, form: SittingForm, at: string, from?: MadeFrom): number {
  const row = { piece_id: pieceId, ...toRow(form), ...(from && toOriginRow(from)), created_at: at, updated_at: at }
  return db.run(db.sql.insertInto('sitting').values(row)).id
}

/** @returns false when there is no such sitting */
export function updateSitting(db: Db, id: number, form: SittingForm, at: string): boolean {
  requireUnchanged(db, 'sitting', id)
  const set = { ...toRow(form), updated_at: at }
  const query = db.sql.updateTable('sitting').set((e) => ({ ...set, version: e('version', '+', 1) }))
  return db.run(query.where('id', '=', id)).changes === 1
}

/** @returns false when there is no such sitting */
export function deleteSitting(db: Db, id: number, at: string): boolean {
  return toBin(db, 'sitting', id, at)
}

function toRow(form: SittingForm) {
  const { stage, maker, zone, day, minutes, note } = form
  return {
    ...{ stage, maker, zone, day, minutes, note },
    started_at: form.startedAt ?? null,
    ended_at: form.endedAt ?? null,
    break_minutes: form.breakMinutes,
    picks: form.picks ?? null,
    repeats: form.repeats ?? null,
    length_mm: form.lengthMm ?? null,
  }
}

function toOriginRow(from: MadeFrom) {
  const { stage, startedAt, endedAt, breakMinutes, picks } = from.said
  return {
    ...{ origin: from.origin, said_stage: stage, said_started_at: startedAt, said_ended_at: endedAt },
    ...{ said_break_minutes: breakMinutes, said_picks: picks ?? null },
    ...(from.origin === 'steps' ? { steps_from: from.steps.from, steps_to: from.steps.to } : {}),
  }
}

function toSaid(row: Selectable<SittingRow>): Said | undefined {
  const { said_started_at: startedAt, said_ended_at: endedAt } = row
  if (startedAt === null || endedAt === null) return undefined
  const breakMinutes = row.said_break_minutes ?? 0
  return { stage: row.said_stage as Stage, startedAt, endedAt, breakMinutes, picks: row.said_picks ?? undefined }
}

export function toSitting(row: Selectable<SittingRow>): Sitting {
  const { id, maker, zone, day, minutes, note } = row
  return {
    ...{ id, pieceId: row.piece_id, maker, stage: row.stage as Stage, zone, day },
    startedAt: row.started_at ?? undefined,
    endedAt: row.ended_at ?? undefined,
    ...{ minutes, breakMinutes: row.break_minutes },
    picks: row.picks ?? undefined,
    repeats: row.repeats ?? undefined,
    lengthMm: row.length_mm ?? undefined,
    note,
    origin: row.origin as Origin,
    said: toSaid(row),
    steps: row.steps_from === null || row.steps_to === null ? undefined : { from: row.steps_from, to: row.steps_to },
  }
}
