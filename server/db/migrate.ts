import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import type Database from 'better-sqlite3'
import { APPLICATION_ID, NotebookRefusal } from './open.ts'

export interface Migration {
  /** `20261124-2250-notebook`: sorts by time, never renamed once landed. */
  readonly name: string
  /** SQL of the whole step. */
  readonly up: string
}

export interface MigrateOptions {
  readonly migrations: readonly Migration[]
  /** Where the copy before the first pending step goes; without it (`:memory:`, tests) none is made. */
  readonly copyTo?: string | undefined
  /** Goes into the copy's name. */
  readonly today?: string | undefined
}

/**
 * Brings the database to the newest step. One transaction a step with `foreign_key_check` and `user_version` inside,
 * because Kysely's own migrator is not transactional on SQLite. There is no way down: the copy is the way back.
 * @returns the names of the steps that were run
 * @throws NotebookRefusal for a newer database
 */
export function migrate(raw: Database.Database, options: MigrateOptions): string[] {
  const { migrations } = options
  const version = raw.pragma('user_version', { simple: true }) as number
  if (version > migrations.length) {
    throw new NotebookRefusal(
      `This notebook was written by a newer Fellmark (its structure is step ${version}, this program knows ${migrations.length}); start the newer program, nothing was changed.`,
    )
  }
  const pending = migrations.slice(version)
  if (pending.length > 0 && version > 0 && options.copyTo) copyBefore(raw, options.copyTo, version, options.today)
  // Rebuilding a parent table would set off `on delete cascade`; the pragma is a no-op inside a transaction.
  raw.pragma('foreign_keys = off')
  try {
    pending.forEach((step, index) => runStep(raw, step, version + index + 1))
  } finally {
    raw.pragma('foreign_keys = on')
  }
  return pending.map((step) => step.name)
}

function runStep(raw: Database.Database, step: Migration, version: number): void {
  raw
    .transaction(() => {
      // Another program that was started at the same moment may have done this step while we waited for the lock.
      if ((raw.pragma('user_version', { simple: true }) as number) >= version) return
      raw.exec(step.up)
      const broken = raw.pragma('foreign_key_check') as unknown[]
      if (broken.length > 0) throw new Error(`Migration ${step.name} leaves ${broken.length} rows without their parent`)
      raw.pragma(`application_id = ${APPLICATION_ID}`)
      raw.pragma(`user_version = ${version}`)
    })
    .immediate()
}

function copyBefore(raw: Database.Database, folder: string, version: number, today = 'undated'): void {
  mkdirSync(folder, { recursive: true })
  let file = join(folder, `before-step-${version + 1}-${today}.db`)
  for (let again = 2; fileTaken(raw, file); again++) {
    file = join(folder, `before-step-${version + 1}-${today}-${again}.db`)
  }
}

/** Tries the copy under this name; true when the name is in use (`vacuum into` refuses to overwrite). */
function fileTaken(raw: Database.Database, file: string): boolean {
  try {
    raw.prepare('vacuum into ?').run(file)
    return false
  } catch (error) {
    if (error instanceof Error && /already exists/.test(error.message)) return true
    throw error
  }
}
