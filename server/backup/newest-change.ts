import { existsSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type Database from 'better-sqlite3'
import type { Db } from '../db/open.ts'
import { noteIfPossible } from '../disk-fault.ts'

// How far the log of changes had come, in a file of its own. A database whose log file (`-wal`) was deleted, or that was
// left out when somebody copied the folder, is whole for SQLite and only older; nothing inside of it can tell.

const fileOf = (dataDir: string) => join(dataDir, 'newest-change')

/** It only ever says what is in the database already, so that a power cut cannot leave it ahead of that. */
export function noteNewestChange({ raw }: Db, dataDir: string): void {
  const newest = newestChange(raw)
  if (newest === undefined || newest === notedChange(dataDir)) return
  noteIfPossible(() => {
    writeFileSync(`${fileOf(dataDir)}.new`, `${newest}\n`)
    renameSync(`${fileOf(dataDir)}.new`, fileOf(dataDir))
  })
}

/** Before the log goes back on purpose: a restore. */
export const forgetNewestChange = (dataDir: string): void => rmSync(fileOf(dataDir), { force: true })

/** By how many changes this database is older than one that was in the same folder before; 0 when it is not. */
export function changesLost(raw: Database.Database, dataDir: string): number {
  return Math.max(0, (notedChange(dataDir) ?? 0) - (newestChange(raw) ?? 0))
}

/** Undefined where none was noted, or a power cut took what was in the file. */
function notedChange(dataDir: string): number | undefined {
  if (!existsSync(fileOf(dataDir))) return undefined
  const text = readFileSync(fileOf(dataDir), 'utf8').trim()
  return /^\d{1,15}$/.test(text) ? Number(text) : undefined
}

/** The highest number that the log has given out, deleted ones too; undefined in a structure from before there was a log. */
function newestChange(raw: Database.Database): number | undefined {
  const hasLog = raw.prepare("select 1 from sqlite_schema where name = 'change'").get() !== undefined
  if (!hasLog) return undefined
  return raw.prepare<[], number>("select seq from sqlite_sequence where name = 'change'").pluck().get() ?? 0
}

/** Every minute, while the program runs. */
export function scheduleNewestChange(db: Db, dataDir: string): void {
  setInterval(() => noteNewestChange(db, dataDir), 60_000).unref()
}
