import type { Db } from '../db/open.ts'
import type { Visibility } from '../db/tables.ts'
import type { Owned } from '../rights/readable.ts'
import { listHiddenGrounds } from './rest.ts'

export interface Shared {
  readonly visibility: Visibility
  readonly ownerId: number | null
  /** Empty where nobody owns it. */
  readonly ownerName: string
}

export function findShared(db: Db, noun: Owned, id: number): Shared | undefined {
  const row = db.first(
    db.sql
      .selectFrom(noun)
      .leftJoin('member', 'member.id', `${noun}.owner_id`)
      .select([`${noun}.visibility as visibility`, `${noun}.owner_id as ownerId`, 'member.name as ownerName'])
      .where(`${noun}.id`, '=', id),
  )
  return row && { ...row, ownerName: row.ownerName ?? '' }
}

/**
 * Says who may see a thing.
 * @param withGrounds shows what it rests on to as many, as far as that is the viewer's own
 */
export function setVisibility(db: Db, noun: Owned, id: number, visibility: Visibility, withGrounds: boolean): void {
  db.write(() => {
    db.run(db.sql.updateTable(noun).set({ visibility }).where('id', '=', id))
    if (!withGrounds) return
    for (const ground of listHiddenGrounds(db, noun, id, visibility))
      if (ground.isMine) db.run(db.sql.updateTable(ground.noun).set({ visibility }).where('id', '=', ground.id))
  })
}

export interface Person {
  readonly id: number
  readonly name: string
}

export function listCoMakers(db: Db, pieceId: number): Person[] {
  return db.all(
    db.sql
      .selectFrom('co_maker')
      .innerJoin('member', 'member.id', 'co_maker.member_id')
      .select(['member.id', 'member.name'])
      .where('co_maker.piece_id', '=', pieceId)
      .orderBy('member.name')
      .orderBy('member.id'),
  )
}

/** Who could make the piece with its owner: a guest changes nothing, and who has left is not there. */
export function listPossibleCoMakers(db: Db, pieceId: number): Person[] {
  return db.all(
    db.sql
      .selectFrom('member')
      .select(['id', 'name'])
      .where('left_at', 'is', null)
      .where('role', '!=', 'guest')
      .where('id', 'not in', (e) => e.selectFrom('co_maker').select('member_id').where('piece_id', '=', pieceId))
      .where((e) =>
        e.not(
          e.exists(
            e
              .selectFrom('piece')
              .select('piece.id')
              .where('piece.id', '=', pieceId)
              .whereRef('piece.owner_id', '=', 'member.id'),
          ),
        ),
      )
      .orderBy('name')
      .orderBy('id'),
  )
}

/** @returns false when this member cannot make it with the owner */
export function insertCoMaker(db: Db, pieceId: number, memberId: number): boolean {
  return db.write(() => {
    if (!listPossibleCoMakers(db, pieceId).some(({ id }) => id === memberId)) return false
    db.run(db.sql.insertInto('co_maker').values({ piece_id: pieceId, member_id: memberId }))
    return true
  })
}

/** @returns false when the member was no co-maker */
export function deleteCoMaker(db: Db, pieceId: number, memberId: number): boolean {
  const query = db.sql.deleteFrom('co_maker').where('piece_id', '=', pieceId).where('member_id', '=', memberId)
  return db.run(query).changes === 1
}
