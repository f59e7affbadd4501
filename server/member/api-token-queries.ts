import type { Db } from '../db/open.ts'
import { noteIfPossible } from '../disk-fault.ts'
import type { ApiTokenRow } from '../db/people-tables.ts'
import type { Viewer } from '../rights/viewer.ts'
import { hashToken, newToken } from './token.ts'

export type Scope = ApiTokenRow['scope']
const USED_EVERY_MS = 60_000

export interface NewApiToken {
  readonly name: string
  readonly scope: Scope
  readonly expiresAt: string
}

/** @returns the token; it is not kept, so it can be shown this once only */
export function insertApiToken(db: Db, memberId: number, { name, scope, expiresAt }: NewApiToken, now: Date): string {
  const { token, hash } = newToken()
  const row = {
    token_hash: hash,
    member_id: memberId,
    name,
    scope,
    created_at: now.toISOString(),
    expires_at: expiresAt,
  }
  db.run(db.sql.insertInto('api_token').values(row))
  return token
}

export interface ApiToken extends NewApiToken {
  readonly id: number
  readonly createdAt: string
  readonly lastUsedAt: string | null
  readonly memberName: string
}

/** Of one member, or of everybody. */
export function listApiTokens(db: Db, memberId?: number): ApiToken[] {
  const query = db.sql
    .selectFrom('api_token')
    .innerJoin('member', 'member.id', 'api_token.member_id')
    .select(['api_token.id', 'api_token.name', 'scope', 'api_token.created_at as createdAt', 'expires_at as expiresAt'])
    .select(['last_used_at as lastUsedAt', 'member.name as memberName'])
    .orderBy('api_token.id')
  return db.all(memberId === undefined ? query : query.where('member_id', '=', memberId))
}

/** @returns false when there is none of this id, or it is somebody else's */
export function deleteApiToken(db: Db, id: number, memberId?: number): boolean {
  const query = db.sql.deleteFrom('api_token').where('id', '=', id)
  return db.run(memberId === undefined ? query : query.where('member_id', '=', memberId)).changes === 1
}

/** All of one member. @returns how many there were */
export function deleteApiTokens(db: Db, memberId: number): number {
  return db.run(db.sql.deleteFrom('api_token').where('member_id', '=', memberId)).changes
}

/** Who comes with this token and what for; undefined when it was never given, was ended, or is too old. */
export function findApiTokenViewer(db: Db, token: string, now: Date): { viewer: Viewer; scope: Scope } | undefined {
  const row = db.first(
    db.sql
      .selectFrom('api_token')
      .innerJoin('member', 'member.id', 'api_token.member_id')
      .select(['api_token.id', 'member.id as memberId', 'member.name', 'role', 'scope', 'last_used_at as lastUsedAt'])
      .where('token_hash', '=', hashToken(token))
      .where('api_token.expires_at', '>', now.toISOString())
      .where('member.left_at', 'is', null),
  )
  if (!row) return undefined
  if (row.lastUsedAt === null || now.getTime() - Date.parse(row.lastUsedAt) >= USED_EVERY_MS) {
    const used = db.sql.updateTable('api_token').set({ last_used_at: now.toISOString() }).where('id', '=', row.id)
    noteIfPossible(() => db.run(used))
  }
  return { viewer: { kind: 'member', id: row.memberId, name: row.name, role: row.role }, scope: row.scope }
}
