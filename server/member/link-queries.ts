import type { Db } from '../db/open.ts'
import type { OneTimeLinkRow } from '../db/people-tables.ts'
import type { Role } from '../db/tables.ts'
import type { Selectable } from 'kysely'
import { deleteApiTokens } from './api-token-queries.ts'
import { hasMembers, insertFirstKeeper, insertMember, updatePassword, type NewMember } from './queries.ts'
import { hashToken, newToken } from './token.ts'

export type LinkKind = OneTimeLinkRow['kind']

export const LINK_HOURS: Readonly<Record<LinkKind, number>> = { setup: 1, invite: 7 * 24, reset: 24 }

export type OpenLink = Selectable<OneTimeLinkRow>

/** The link that this token opens; undefined when it was never given, was used, or is too old. */
export function findOpenLink(db: Db, kind: LinkKind, token: string, now: Date): OpenLink | undefined {
  return db.first(
    db.sql
      .selectFrom('one_time_link')
      .selectAll()
      .where('token_hash', '=', hashToken(token))
      .where('kind', '=', kind)
      .where('used_at', 'is', null)
      .where('expires_at', '>', now.toISOString())
      .where('expires_at', '<=', latestEnd(kind, now)),
  )
}

/** Of a link that is made now, and a day more: one that ends later was made by a clock that ran ahead. */
const latestEnd = (kind: LinkKind, now: Date) =>
  new Date(now.getTime() + (LINK_HOURS[kind] + 24) * 60 * 60 * 1000).toISOString()

/** A new set-up link takes the place of the one before. @returns its token */
export const insertSetupLink = (db: Db, now: Date): string => insertLink(db, 'setup', 'keeper', null, now)

export const insertInvite = (db: Db, role: Role, now: Date): string => insertLink(db, 'invite', role, null, now)

/** A new link for the same member takes the place of the one before. @returns its token */
export const insertResetLink = (db: Db, member: { id: number; role: Role }, now: Date): string =>
  insertLink(db, 'reset', member.role, member.id, now)

function insertLink(db: Db, kind: LinkKind, role: Role, memberId: number | null, now: Date): string {
  const { token, hash } = newToken()
  const at = now.toISOString()
  db.write(() => {
    db.run(db.sql.deleteFrom('one_time_link').where('expires_at', '<=', at))
    if (kind !== 'invite') {
      db.run(db.sql.deleteFrom('one_time_link').where('kind', '=', kind).where('member_id', 'is', memberId))
    }
    const expires = new Date(now.getTime() + LINK_HOURS[kind] * 60 * 60 * 1000).toISOString()
    const row = { token_hash: hash, kind, role, member_id: memberId, created_at: at, expires_at: expires }
    db.run(db.sql.insertInto('one_time_link').values(row))
  })
  return token
}

export interface Invitation {
  readonly key: string
  readonly role: Role
  readonly createdAt: string
  readonly expiresAt: string
}

export function listInvitations(db: Db, now: Date): Invitation[] {
  return db
    .all(
      db.sql
        .selectFrom('one_time_link')
        .selectAll()
        .where('kind', '=', 'invite')
        .where('used_at', 'is', null)
        .where('expires_at', '>', now.toISOString())
        .orderBy('created_at'),
    )
    .map((row) => ({
      ...{ key: row.token_hash.slice(0, 16), role: row.role, createdAt: row.created_at, expiresAt: row.expires_at },
    }))
}

/** @returns false when there is no such invitation any more */
export function deleteInvitation(db: Db, key: string): boolean {
  if (!/^[0-9a-f]{16}$/.test(key)) return false
  return (
    db.run(db.sql.deleteFrom('one_time_link').where('kind', '=', 'invite').where('token_hash', 'like', `${key}%`))
      .changes > 0
  )
}

/** Somebody else was quicker, or it is too late. */
class LinkGone extends Error {}
class NameTaken extends Error {}

export type Joined = { ok: true; id: number } | { ok: false; why: 'gone' | 'taken' }

/** Who comes by a link, and with what. */
export interface ByLink {
  readonly token: string
  readonly now: Date
  /** What else belongs to it, all or nothing: the session that begins with it. */
  readonly begin: (memberId: number) => void
}

/** Uses the link up and makes the member, or neither. */
export function joinByLink(db: Db, kind: 'setup' | 'invite', member: NewMember, by: ByLink): Joined {
  const { token, now, begin } = by
  try {
    const id = db.write(() => {
      const link = useLink(db, kind, token, now)
      const made = kind === 'setup' ? insertFirstKeeper(db, member, now) : insertMember(db, member, link.role, now)
      if (made === 'notFirst') throw new LinkGone()
      if (made === 'taken') throw new NameTaken()
      begin(made)
      return made
    })
    return { ok: true, id }
  } catch (error) {
    if (error instanceof LinkGone) return { ok: false, why: 'gone' }
    if (error instanceof NameTaken) return { ok: false, why: 'taken' }
    throw error
  }
}

export type Reset = { ok: true; id: number; endedTokens: number } | { ok: false; why: 'gone' }

/**
 * Uses the link up and changes the password; every session ends, and every token for programs: whoever had the password
 * may have made one.
 */
export function resetByLink(db: Db, passwordHash: string, { token, now, begin }: ByLink): Reset {
  try {
    return db.write(() => {
      const link = useLink(db, 'reset', token, now)
      if (link.member_id === null) throw new LinkGone()
      updatePassword(db, link.member_id, passwordHash)
      const endedTokens = deleteApiTokens(db, link.member_id)
      begin(link.member_id)
      return { ok: true, id: link.member_id, endedTokens }
    })
  } catch (error) {
    if (error instanceof LinkGone) return { ok: false, why: 'gone' }
    throw error
  }
}

function useLink(db: Db, kind: LinkKind, token: string, now: Date): OpenLink {
  const link = findOpenLink(db, kind, token, now)
  if (!link || (kind === 'setup' && hasMembers(db))) throw new LinkGone()
  const used = { used_at: now.toISOString() }
  db.run(db.sql.updateTable('one_time_link').set(used).where('token_hash', '=', link.token_hash))
  return link
}
