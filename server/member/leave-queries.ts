import type { Db } from '../db/open.ts'
import { handOverDensities } from '../fibre/queries.ts'
import { OWNED, type Owned } from '../rights/readable.ts'
import { deleteDevices } from './device-queries.ts'
import { findMember, isLastKeeper } from './queries.ts'
import { deleteSessions } from './session-queries.ts'

/** What a member has, by sort, the bin not counted. */
export function countOwned(db: Db, memberId: number): { table: Owned; count: number }[] {
  return OWNED.map((table) => ({
    table,
    count:
      db.first(
        db.sql
          .selectFrom(table)
          .select((e) => e.fn.countAll<number>().as('count'))
          .where('owner_id', '=', memberId)
          .where('deleted_at', 'is', null),
      )?.count ?? 0,
  }))
}

/** Where what somebody leaves behind goes: to `heirId`, as it is or into the bin. */
export interface Estate {
  readonly heirId: number
  readonly toBin: boolean
}

/**
 * Ends a membership: what they own goes to the heir, and nothing of theirs signs in again. The row stays, because the
 * log of changes names it; its sign-in name is free again.
 */
export function endMembership(
  db: Db,
  id: number,
  estate: Estate,
  now: Date,
): 'ended' | 'absent' | 'lastKeeper' | 'noHeir' {
  return db.write(() => {
    const member = findMember(db, id)
    if (!member || member.leftAt !== null) return 'absent'
    if (isLastKeeper(db, id)) return 'lastKeeper'
    const heir = findMember(db, estate.heirId)
    if (!heir || heir.leftAt !== null || heir.id === id || heir.role === 'guest') return 'noHeir'
    const at = now.toISOString()
    for (const table of OWNED) {
      if (estate.toBin) {
        db.run(
          db.sql.updateTable(table).set({ deleted_at: at }).where('owner_id', '=', id).where('deleted_at', 'is', null),
        )
      }
      db.run(db.sql.updateTable(table).set({ owner_id: heir.id }).where('owner_id', '=', id))
    }
    // What may be claimed goes on: claims of others may speak of it.
    db.run(db.sql.updateTable('feature').set({ owner_id: heir.id }).where('owner_id', '=', id))
    // Plans of theirs go on resting on them.
    handOverDensities(db, id, heir.id)
    db.run(db.sql.deleteFrom('co_maker').where('member_id', '=', id))
    // Who inherits a piece they helped to make is its owner now.
    db.run(
      db.sql
        .deleteFrom('co_maker')
        .where('member_id', '=', heir.id)
        .where('piece_id', 'in', (e) => e.selectFrom('piece').select('id').where('owner_id', '=', heir.id)),
    )
    for (const table of ['working_copy', 'timer', 'hours_limit'] as const)
      db.run(db.sql.deleteFrom(table).where('member_id', '=', id))
    deleteSessions(db, id)
    deleteDevices(db, id)
    db.run(db.sql.deleteFrom('api_token').where('member_id', '=', id))
    db.run(db.sql.deleteFrom('one_time_link').where('member_id', '=', id))
    const gone = { left_at: at, sign_in_name: `left ${id}`, password_hash: '' }
    db.run(db.sql.updateTable('member').set(gone).where('id', '=', id))
    return 'ended'
  })
}
