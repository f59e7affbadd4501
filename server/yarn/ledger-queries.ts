import { sql } from 'kysely'
import type { Change, Entry, MovementKind } from '../../shared/yarn/ledger.ts'
import type { Db } from '../db/open.ts'
import { readable } from '../rights/readable.ts'

/** One entry of a lot's ledger, with the names of what it speaks of; those that the viewer may not see are empty. */
export interface Movement extends Entry {
  readonly day: string
  readonly expectedMg: number | undefined
  readonly foundMg: number | undefined
  readonly pieceName: string
  readonly otherLotId: number | undefined
  readonly otherLotName: string
  readonly acceptedBelow: boolean
  readonly note: string
  /** When it was entered. */
  readonly createdAt: string
}

/** The ledger of a lot in the order of its days, and of entering within a day. */
export function listMovements(db: Db, lotId: number): Movement[] {
  const rows = db.all(
    db.sql
      .selectFrom('movement as m')
      .selectAll('m')
      .select((e) => [
        e
          .selectFrom('piece as p')
          .select('p.name')
          .whereRef('p.id', '=', 'm.piece_id')
          .where(readable('piece', 'p'))
          .as('piece_name'),
        e
          .selectFrom('lot as l')
          .innerJoin('yarn as y', 'y.id', 'l.yarn_id')
          .select(sql<string>`y.name || ', ' || l.colour_name`.as('name'))
          .whereRef('l.id', '=', 'm.other_lot_id')
          .where('l.deleted_at', 'is', null)
          .where(readable('yarn', 'y'))
          .as('other_name'),
      ])
      .where('m.lot_id', '=', lotId)
      .orderBy('m.on_day')
      .orderBy('m.id'),
  )
  return rows.map((row) => ({
    ...{
      id: row.id,
      kind: row.kind as MovementKind,
      massMg: row.mass_mg,
      reservedMg: row.reserved_mg,
      day: row.on_day,
    },
    ...{ expectedMg: row.expected_mg ?? undefined, foundMg: row.found_mg ?? undefined, note: row.note },
    ...{ pieceId: row.piece_id ?? undefined, pieceName: row.piece_name ?? '' },
    ...{ otherLotId: row.other_lot_id ?? undefined, otherLotName: row.other_name ?? '' },
    ...{ correctsId: row.corrects_id ?? undefined, acceptedBelow: row.accepted_below === 1, createdAt: row.created_at },
  }))
}

/** Whose ledger an entry stands in. */
export const findLotOfMovement = (db: Db, id: number): number | undefined =>
  db.first(db.sql.selectFrom('movement').select('lot_id').where('id', '=', id))?.lot_id

/** One entry about to be written. */
export interface NewMovement extends Change {
  readonly lotId: number
  readonly kind: MovementKind
  readonly day: string
  readonly pieceId: number | undefined
  readonly otherLotId?: number | undefined
  readonly correctsId?: number | undefined
  readonly acceptedBelow: boolean
  readonly note: string
}

export function insertMovement(db: Db, entry: NewMovement, at: string): number {
  const row = {
    ...{ lot_id: entry.lotId, kind: entry.kind, on_day: entry.day, note: entry.note, created_at: at },
    ...{ mass_mg: entry.massMg, reserved_mg: entry.reservedMg },
    ...{ expected_mg: entry.expectedMg ?? null, found_mg: entry.foundMg ?? null, piece_id: entry.pieceId ?? null },
    ...{ other_lot_id: entry.otherLotId ?? null, corrects_id: entry.correctsId ?? null },
    accepted_below: entry.acceptedBelow ? (1 as const) : (0 as const),
  }
  return db.run(db.sql.insertInto('movement').values(row)).id
}

/** What of a lot is still reserved for a piece, and what was used for it so far. */
export interface PieceLot {
  readonly lotId: number
  readonly reservedMg: number
  /** Used less what came back. */
  readonly usedMg: number
}

/** The lots that the ledger names for a piece, in the order of their ids; only of yarns that the viewer may see. */
export function listPieceLots(db: Db, pieceId: number): PieceLot[] {
  return db
    .all(
      db.sql
        .selectFrom('movement as m')
        .innerJoin('lot as l', 'l.id', 'm.lot_id')
        .innerJoin('yarn as y', 'y.id', 'l.yarn_id')
        .select((e) => [
          'm.lot_id as lotId',
          e.fn.sum<number>('m.reserved_mg').as('reservedMg'),
          sql<number>`-sum(m.mass_mg)`.as('usedMg'),
        ])
        .where('m.piece_id', '=', pieceId)
        .where('l.deleted_at', 'is', null)
        .where(readable('yarn', 'y'))
        .groupBy('m.lot_id')
        .orderBy('m.lot_id'),
    )
    .map(({ lotId, reservedMg, usedMg }) => ({ lotId, reservedMg, usedMg: usedMg === 0 ? 0 : usedMg }))
}
