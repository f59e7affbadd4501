import type { Db } from '../db/open.ts'
import { noteIfPossible } from '../disk-fault.ts'
import type { Viewer } from '../rights/viewer.ts'
import { hashToken, newToken } from './token.ts'

/** A session ends so many days after it was last used, and so many after it began, whatever comes first. */
export const IDLE_DAYS = 30
export const ABSOLUTE_DAYS = 90
const SEEN_EVERY_MS = 60_000

/**
 * A clock that ran ahead by years, and was put right, would leave sessions that outlive everybody; one that was put back
 * by an hour or a day must send nobody away.
 */
const AHEAD_DAYS = 2
const isFromAhead = (at: string, now: Date) => at > daysFrom(now, AHEAD_DAYS)

const daysFrom = (at: Date, days: number) => new Date(at.getTime() + days * 24 * 60 * 60 * 1000).toISOString()

/** @returns the token for the cookie; it is not kept */
export function insertSession(db: Db, memberId: number, agent: string, now: Date): string {
  const { token, hash } = newToken()
  const at = now.toISOString()
  db.write(() => {
    const idle = daysFrom(now, -IDLE_DAYS)
    const ahead = daysFrom(now, AHEAD_DAYS)
    const ended = [
      ['expires_at', '<=', at] as const,
      ['seen_at', '<=', idle] as const,
      ['seen_at', '>', ahead] as const,
    ]
    db.run(db.sql.deleteFrom('session').where((e) => e.or(ended.map(([column, how, when]) => e(column, how, when)))))
    const times = { created_at: at, seen_at: at, expires_at: daysFrom(now, ABSOLUTE_DAYS) }
    db.run(
      db.sql
        .insertInto('session')
        .values({ token_hash: hash, member_id: memberId, agent: agent.slice(0, 300), ...times }),
    )
  })
  return token
}

/** Who comes with this token; undefined when it was never given, has ended, or is too old. */
export function findSessionViewer(db: Db, token: string, now: Date): Viewer | undefined {
  const hash = hashToken(token)
  const row = db.first(
    db.sql
      .selectFrom('session')
      .innerJoin('member', 'member.id', 'session.member_id')
      .select(['member.id', 'member.name', 'member.role', 'session.seen_at', 'session.expires_at'])
      .where('session.token_hash', '=', hash)
      .where('member.left_at', 'is', null),
  )
  if (!row) return undefined
  const at = now.toISOString()
  if (row.expires_at <= at || row.seen_at <= daysFrom(now, -IDLE_DAYS)) return undefined
  if (isFromAhead(row.seen_at, now) || row.expires_at > daysFrom(now, ABSOLUTE_DAYS + AHEAD_DAYS)) return undefined
  if (now.getTime() - Date.parse(row.seen_at) >= SEEN_EVERY_MS) {
    noteIfPossible(() => db.run(db.sql.updateTable('session').set({ seen_at: at }).where('token_hash', '=', hash)))
  }
  return { kind: 'member', id: row.id, name: row.name, role: row.role }
}

export interface OpenSession {
  /** Names it on the page; the token cannot be had from it. */
  readonly key: string
  readonly agent: string
  readonly createdAt: string
  readonly seenAt: string
  readonly isThis: boolean
}

const KEY_LENGTH = 16

export function listSessions(db: Db, memberId: number, token: string | undefined, now: Date): OpenSession[] {
  const present = token === undefined ? '' : hashToken(token)
  return db
    .all(
      db.sql
        .selectFrom('session')
        .selectAll()
        .where('member_id', '=', memberId)
        .where('expires_at', '>', now.toISOString())
        .where('seen_at', '>', daysFrom(now, -IDLE_DAYS))
        .where('seen_at', '<=', daysFrom(now, AHEAD_DAYS))
        .orderBy('seen_at', 'desc'),
    )
    .map((row) => ({
      ...{ key: row.token_hash.slice(0, KEY_LENGTH), agent: row.agent, createdAt: row.created_at, seenAt: row.seen_at },
      isThis: row.token_hash === present,
    }))
}

export function deleteSession(db: Db, token: string): void {
  db.run(db.sql.deleteFrom('session').where('token_hash', '=', hashToken(token)))
}

/** @returns false when this member has no such session */
export function deleteSessionByKey(db: Db, memberId: number, key: string): boolean {
  if (!/^[0-9a-f]{16}$/.test(key)) return false
  return (
    db.run(db.sql.deleteFrom('session').where('member_id', '=', memberId).where('token_hash', 'like', `${key}%`))
      .changes > 0
  )
}

/** All sessions of a member, or all but the one with `keepToken`. */
export function deleteSessions(db: Db, memberId: number, keepToken?: string): number {
  const keep = keepToken === undefined ? '' : hashToken(keepToken)
  return db.run(db.sql.deleteFrom('session').where('member_id', '=', memberId).where('token_hash', '!=', keep)).changes
}
