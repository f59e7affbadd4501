import { mkdirSync } from 'node:fs'
import Database from 'better-sqlite3'
import { NotebookRefusal, openDb, type Db } from './open.ts'

/**
 * Makes the data folder when it is not there.
 * @throws NotebookRefusal when the disk or the rights do not let it
 */
export function makeFolder(folder: string): void {
  try {
    mkdirSync(folder, { recursive: true })
  } catch (error) {
    throw new NotebookRefusal(`DATA_DIR is "${folder}", where no folder can be made (${codeOf(error)}).`)
  }
}

/**
 * Opens a database file, or says in one sentence why it cannot be.
 * @throws NotebookRefusal when the disk or the rights do not let it, or the file is not ours
 */
export function openFile(file: string): Db {
  return refusing(file, () => openDb(file))
}

/** What SQLite cannot do with a file, as a sentence for the person who started the program. */
export function refusing<T>(file: string, work: () => T): T {
  try {
    return work()
  } catch (error) {
    if (!(error instanceof Database.SqliteError)) throw error
    throw new NotebookRefusal(UNUSABLE[toFamily(error.code)]?.(file) ?? `${file} cannot be used (${error.code}).`)
  }
}

const UNUSABLE: Readonly<Record<string, (file: string) => string>> = {
  SQLITE_CANTOPEN: (file) => `${file} cannot be opened: look whether DATA_DIR may be written to.`,
  SQLITE_READONLY: (file) => `${file} may be read but not written to; the notebook needs both.`,
  SQLITE_BUSY: (file) => `${file} is held by another program; close that first.`,
  SQLITE_CORRUPT: (file) => `${file} is damaged, so nothing was done with it; start from a copy of it or a backup.`,
}

/** `SQLITE_CANTOPEN_ISDIR` is a SQLITE_CANTOPEN. */
const toFamily = (code: string) => code.split('_').slice(0, 2).join('_')

const codeOf = (error: unknown) => (error as NodeJS.ErrnoException).code ?? String(error)
