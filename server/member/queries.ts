import type { Db } from '../db/open.ts'
import type { Role } from '../db/tables.ts'
import { OWNED } from '../rights/readable.ts'
import { deleteDevices } from './device-queries.ts'
import { deleteSessions } from './session-queries.ts'

export interface Member {
  readonly id: number
  readonly name: string
  readonly signInName: string
  readonly role: Role
  readonly createdAt: string
  readonly leftAt: string | null
}

export interface NewMember {
  readonly name: string
  readonly signInName: string
  readonly passwordHash: string
}

export function hasMembers(db: Db): boolean {
  return db.first(db.sql.selectFrom('member').select('id').limit(1)) !== undefined
}

const COLUMNS = [
  'id',
  'name',
  'sign_in_name as signInName',
  'role',
  'created_at as createdAt',
  'left_at as leftAt',
] as const

export function findMember(db: Db, id: number): Member | undefined {
  return db.first(db.sql.selectFrom('member').select(COLUMNS).where('id', '=', id))
}

/** By the name that is typed to sign in, of those who have not left. */
export function findForSignIn(db: Db, signInName: string): (Member & { passwordHash: string }) | undefined {
  return db.first(
    db.sql
      .selectFrom('member')
      .select([...COLUMNS, 'password_hash as passwordHash'])
      .where('sign_in_name', '=', signInName)
      .where('left_at', 'is', null),
  )
}

export function findPasswordHash(db: Db, id: number): string | undefined {
  return db.first(db.sql.selectFrom('member').select('password_hash').where('id', '=', id))?.password_hash
}

/** Those who have not left, keepers first. */
export function listMembers(db: Db): Member[] {
  return db.all(
    db.sql
      .selectFrom('member')
      .select(COLUMNS)
      .where('left_at', 'is', null)
      .orderBy((e) => e.case('role').when('keeper').then(0).when('member').then(1).else(2).end())
      .orderBy('name'),
  )
}

/** @returns 'taken' when somebody else signs in with this name */
export function insertMember(db: Db, member: NewMember, role: Role, now: Date): number | 'taken' {
  const { name, signInName, passwordHash } = member
  const row = { name, sign_in_name: signInName, password_hash: passwordHash, role, created_at: now.toISOString() }
  try {
    return db.run(db.sql.insertInto('member').values(row)).id
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'SQLITE_CONSTRAINT_UNIQUE') return 'taken'
    throw error
  }
}

/** The first one keeps the notebook, and everything that has no owner yet is theirs. */
export function insertFirstKeeper(db: Db, member: NewMember, now: Date): number | 'notFirst' {
  return db.write(() => {
    if (hasMembers(db)) return 'notFirst'
    const id = insertMember(db, member, 'keeper', now)
    if (id === 'taken') throw new Error('The first member cannot share a name')
    for (const table of [...OWNED, 'feature'] as const) {
      db.run(db.sql.updateTable(table).set({ owner_id: id }).where('owner_id', 'is', null))
    }
    for (const table of ['fibre_density', 'forecast', 'quote', 'quote_terms'] as const)
      db.run(db.sql.updateTable(table).set({ owner_id: id }).where('owner_id', 'is', null))
    db.run(db.sql.updateTable('working_copy').set({ member_id: id }).where('member_id', 'is', null))
    for (const table of ['timer', 'steps_left_out'] as const)
      db.run(db.sql.updateTable(table).set({ member_id: id }).where('member_id', 'is', null))
    db.run(
      db.sql
        .updateTable('hours_limit')
        .set({ member_id: id })
        .where('member_id', 'is', null)
        .where('piece_id', 'is', null),
    )
    return id
  })
}

export function updateName(db: Db, id: number, name: string): void {
  db.run(db.sql.updateTable('member').set({ name }).where('id', '=', id))
}

/** A new password ends every session; who asked for it in one of them gets a new one. */
export function updatePassword(db: Db, id: number, passwordHash: string): void {
  db.write(() => {
    db.run(db.sql.updateTable('member').set({ password_hash: passwordHash }).where('id', '=', id))
    deleteSessions(db, id)
    deleteDevices(db, id)
  })
}

/** The last keeper stays keeper: nobody could undo it. */
export function updateRole(db: Db, id: number, role: Role): 'changed' | 'absent' | 'lastKeeper' {
  return db.write(() => {
    if (role !== 'keeper' && isLastKeeper(db, id)) return 'lastKeeper'
    const { changes } = db.run(
      db.sql.updateTable('member').set({ role }).where('id', '=', id).where('left_at', 'is', null),
    )
    return changes === 1 ? 'changed' : 'absent'
  })
}

/** Whether this member keeps the notebook and nobody else does. Ask inside of the `write` that acts on it. */
export function isLastKeeper(db: Db, id: number): boolean {
  const keepers = db.all(
    db.sql.selectFrom('member').select('id').where('role', '=', 'keeper').where('left_at', 'is', null),
  )
  return keepers.length === 1 && keepers[0]?.id === id
}
