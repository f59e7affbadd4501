import type { Selectable } from 'kysely'
import {
  BLANK_PLAN,
  PLAN_FIELDS,
  type PlanEntered,
  yarnFields,
  type YarnPart,
  yarnParts,
} from '../../shared/plan/entry.ts'
import type { Tablet } from '../../shared/draft/draft.ts'
import { requireUnchanged } from '../conflict/stale.ts'
import type { Db } from '../db/open.ts'
import type { PlanRow } from '../db/plan-tables.ts'
import { currentMemberId } from '../rights/viewer.ts'

/** The plan of a piece as it was kept; whether its page may be seen is asked before. */
export interface Plan {
  readonly id: number
  readonly pieceId: number
  readonly version: number
  readonly entered: PlanEntered
}

/** Form field → column. */
const columnOf = (field: string) => field.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`) as keyof PlanRow

export function findPlan(db: Db, pieceId: number): Plan | undefined {
  const row = db.first(db.sql.selectFrom('plan').selectAll().where('piece_id', '=', pieceId))
  return row && toPlan(db, row)
}

export function findPlanById(db: Db, id: number): Plan | undefined {
  const row = db.first(db.sql.selectFrom('plan').selectAll().where('id', '=', id))
  return row && toPlan(db, row)
}

function toPlan(db: Db, row: Selectable<PlanRow>): Plan {
  const fields = Object.fromEntries(PLAN_FIELDS.map((field) => [field, String(row[columnOf(field)])]))
  const yarns = db.all(db.sql.selectFrom('plan_yarn').selectAll().where('plan_id', '=', row.id).orderBy('position'))
  const typed = yarns.flatMap(({ part, colour_key: key, lot_id: lotId, yarn_id: yarnId, count }) => {
    const names = yarnFields(part === 'weft' ? { part } : { part, key })
    const chosen = lotId !== null ? `lot-${lotId}` : yarnId !== null ? `yarn-${yarnId}` : ''
    return [
      [names.chosen, chosen],
      [names.count, count],
    ]
  })
  const entered = { ...BLANK_PLAN, ...fields, ...Object.fromEntries(typed) } as PlanEntered
  return { id: row.id, pieceId: row.piece_id, version: row.version, entered }
}

/**
 * Keeps the plan of a piece, its yarns in the place of those before. Yarns of colours that the draft does not thread go.
 * @param entered looked over before
 * @param at the instant, ISO
 * @throws StaleSave when somebody else has kept another one since the form was opened
 */
export function savePlan(
  db: Db,
  { pieceId, tablets, entered }: { pieceId: number; tablets: readonly Pick<Tablet, 'holes'>[]; entered: PlanEntered },
  at: string,
): void {
  db.write(() => {
    const kept = db.first(db.sql.selectFrom('plan').select('id').where('piece_id', '=', pieceId))
    if (kept) requireUnchanged(db, 'plan', kept.id)
    const fields = Object.fromEntries(
      PLAN_FIELDS.map((field) => [columnOf(field), (entered[field] ?? '').trim()]),
    ) as Omit<PlanRow, 'id' | 'uid' | 'piece_id' | 'version' | 'created_at' | 'updated_at'>
    let planId = kept?.id
    if (planId === undefined) {
      const row = { ...fields, piece_id: pieceId, created_at: at, updated_at: at }
      planId = db.run(db.sql.insertInto('plan').values(row)).id
    } else {
      const update = db.sql
        .updateTable('plan')
        .set((e) => ({ ...fields, updated_at: at, version: e('version', '+', 1) }))
      db.run(update.where('id', '=', planId))
      db.run(db.sql.deleteFrom('plan_yarn').where('plan_id', '=', planId))
    }
    for (const [position, part] of yarnParts(tablets).entries()) insertYarn(db, planId, position, part, entered)
  })
}

function insertYarn(db: Db, planId: number, position: number, part: YarnPart, entered: PlanEntered): void {
  const names = yarnFields(part)
  const [, kind, id] = /^(lot|yarn)-(\d+)$/.exec((entered[names.chosen] ?? '').trim()) ?? []
  const count = kind === undefined ? (entered[names.count] ?? '').trim() : ''
  if (kind === undefined && count === '') return
  db.run(
    db.sql.insertInto('plan_yarn').values({
      ...{ plan_id: planId, position, part: part.part, colour_key: part.part === 'warp' ? part.key : '' },
      ...{ lot_id: kind === 'lot' ? Number(id) : null, yarn_id: kind === 'yarn' ? Number(id) : null, count },
    }),
  )
}

/** Tablets that the viewer has ticked, rising; none where the ticks are about another revision. */
export function listTicks(db: Db, pieceId: number, revisionId: number): number[] {
  const row = db.first(
    db.sql
      .selectFrom('threading_tick')
      .select('tablets')
      .where('piece_id', '=', pieceId)
      .where('draft_revision_id', '=', revisionId)
      .where('member_id', 'is', currentMemberId()),
  )
  return row ? (JSON.parse(row.tablets) as number[]) : []
}

/** Ticks about one revision are about another one from now on, which is threaded alike. */
export function moveTicks(db: Db, pieceId: number, fromId: number, toId: number): void {
  const update = db.sql.updateTable('threading_tick').set({ draft_revision_id: toId })
  db.run(update.where('piece_id', '=', pieceId).where('draft_revision_id', '=', fromId))
}

/** Puts the viewer's ticks in the place of those before. */
export function saveTicks(
  db: Db,
  { pieceId, revisionId, tablets }: { pieceId: number; revisionId: number; tablets: readonly number[] },
  at: string,
): void {
  db.write(() => {
    const whose = { piece_id: pieceId, member_id: currentMemberId() }
    const old = db.sql.deleteFrom('threading_tick').where('piece_id', '=', pieceId)
    db.run(old.where('member_id', 'is', whose.member_id))
    const row = { ...whose, draft_revision_id: revisionId, tablets: JSON.stringify(tablets), saved_at: at }
    db.run(db.sql.insertInto('threading_tick').values(row))
  })
}
