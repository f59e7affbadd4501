import type { Generated } from 'kysely'
import type { Role } from './tables.ts'

export interface MemberRow {
  id: Generated<number>
  name: string
  /** Compared without regard to case. */
  sign_in_name: string
  /** Argon2id, in its own format. */
  password_hash: string
  role: Role
  created_at: string
  left_at: string | null
}

/** Only hashes of tokens are kept: SHA-256 of 256 random bits, as hex. */
export interface SessionRow {
  token_hash: string
  member_id: number
  created_at: string
  seen_at: string
  expires_at: string
  agent: string
}

/** A browser in which this member has signed in before: not held up by what others try elsewhere. */
export interface KnownDeviceRow {
  token_hash: string
  member_id: number
  seen_at: string
}

/** Kept by rate-limiter-flexible; `expire` in milliseconds since 1970. */
export interface SignInLimitRow {
  key: string
  points: Generated<number>
  expire: number | null
}

export interface OneTimeLinkRow {
  token_hash: string
  kind: 'setup' | 'invite' | 'reset'
  member_id: number | null
  role: Role
  created_at: string
  expires_at: string
  used_at: string | null
}

export interface ApiTokenRow {
  id: Generated<number>
  token_hash: string
  member_id: number
  name: string
  scope: 'read' | 'write'
  created_at: string
  expires_at: string
  last_used_at: string | null
}

export interface CoMakerRow {
  piece_id: number
  member_id: number
}

/** Written by triggers alone. */
export interface ChangeRow {
  id: Generated<number>
  at: string
  /** Null for the lone maker, and for the program itself. */
  member_id: number | null
  kind: string
  item_id: number
  action: 'insert' | 'update' | 'delete'
  /** Of the row after the change; null where rows have none. */
  version: number | null
  /** JSON: column → [before, after]; empty for insert and delete. */
  fields: string
}

export interface BackupRunRow {
  id: Generated<number>
  at: string
  file: string
  bytes: number
  ok: 0 | 1
  message: string
}

/** A restore, which is about the notebook as a whole: carried over by the next one. */
export interface RestoreRunRow {
  id: Generated<number>
  at: string
  /** Empty for the lone maker, and for a command. */
  by_name: string
  /** When the backup was made that was put in the place of what was there. */
  backup_at: string
  /** Name of the backup of what was there before; empty where there was nothing. */
  safety: string
}

export interface PhotoRow {
  id: Generated<number>
  uid: Generated<string>
  original_id: number | null
  piece_id: number | null
  part: string
  caption: string
  credit: string
  /** SPDX id, or a rightsstatements.org address. */
  licence: string
  taken_on: string | null
  /** Server-made name below the photographs folder, without its ending. */
  file: string
  /** Of the file as it was sent. */
  sha256: string
  width: number
  height: number
  /** Of the web sizes together, and of the file as it was sent. */
  bytes: number
  original_bytes: number
  version: Generated<number>
  deleted_at: Generated<string | null>
  created_at: string
  updated_at: string
}
