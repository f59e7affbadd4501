import type { Db } from '../db/open.ts'
import { hashToken, newToken } from './token.ts'

/** The hash of this device's token when this member has signed in with it before. */
export function findKnownDevice(db: Db, token: string | undefined, memberId: number): string | undefined {
  if (token === undefined) return undefined
  const hash = hashToken(token)
  return db.first(
    db.sql
      .selectFrom('known_device')
      .select('token_hash')
      .where('token_hash', '=', hash)
      .where('member_id', '=', memberId),
  )?.token_hash
}

/** @returns the token for the cookie: the device's own, or a new one */
export function keepDevice(db: Db, token: string | undefined, memberId: number, now: Date): string {
  const known = token !== undefined && isDevice(db, token)
  const kept = known ? { token, hash: hashToken(token) } : newToken()
  const row = { token_hash: kept.hash, member_id: memberId, seen_at: now.toISOString() }
  db.run(
    db.sql
      .insertInto('known_device')
      .values(row)
      .onConflict((on) => on.columns(['token_hash', 'member_id']).doUpdateSet({ seen_at: row.seen_at })),
  )
  return kept.token
}

/** Somebody else of this household or workshop may have signed in with it. A token that we never gave is no device. */
const isDevice = (db: Db, token: string) =>
  db.first(db.sql.selectFrom('known_device').select('member_id').where('token_hash', '=', hashToken(token))) !==
  undefined

export function deleteDevices(db: Db, memberId: number): void {
  db.run(db.sql.deleteFrom('known_device').where('member_id', '=', memberId))
}
