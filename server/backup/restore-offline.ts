import { existsSync, mkdirSync, renameSync, rmSync, statSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { withNotebook, type Desk } from '../admin/command.ts'
import { holdInstance } from '../db/instance.ts'
import { openDb } from '../db/open.ts'
import { backupName, backupsFolder, DATABASE } from './place.ts'
import { restoreBackup, RestoreRefusal, type Restored } from './restore.ts'
import { verifyBackup } from './verify.ts'

const FILES = [DATABASE, `${DATABASE}-wal`, `${DATABASE}-shm`]

/**
 * Restores from a command: over a notebook that is well, which a server may be using; into a folder without one; or in
 * the place of a damaged one, whose files are set aside and come back when the restore fails.
 * @throws RestoreRefusal, NotebookRefusal
 */
export async function restoreIntoFolder(desk: Desk, folder: string): Promise<Restored & { setAside?: string }> {
  const { dataDir, now } = desk
  const file = join(dataDir, DATABASE)
  const isThere = existsSync(file) && statSync(file).size > 0
  if (isThere && isWell(file)) return withNotebook(desk, (db) => restoreBackup({ db, dataDir, now, folder }))
  const verdict = await verifyBackup(folder)
  if (!verdict.ok) throw new RestoreRefusal(`This backup cannot be restored. ${verdict.problems.join(' ')}`)
  mkdirSync(dataDir, { recursive: true })
  const release = holdInstance(dataDir)
  const aside = join(backupsFolder(dataDir), `damaged-${backupName(now())}`)
  try {
    const moved = moveFiles(dataDir, aside)
    try {
      const restored = await restoreInto(file, desk, folder)
      return isThere ? { ...restored, setAside: aside } : restored
    } catch (error) {
      for (const name of FILES) rmSync(join(dataDir, name), { force: true })
      for (const name of moved) renameSync(join(aside, name), join(dataDir, name))
      throw error
    } finally {
      if (!isThere) rmSync(aside, { recursive: true, force: true })
    }
  } finally {
    release()
  }
}

async function restoreInto(file: string, { dataDir, now }: Desk, folder: string): Promise<Restored> {
  const db = openDb(file)
  try {
    return await restoreBackup({ db, dataDir, now, folder })
  } finally {
    db.close()
  }
}

function moveFiles(dataDir: string, aside: string): string[] {
  const there = FILES.filter((name) => existsSync(join(dataDir, name)))
  mkdirSync(aside, { recursive: true })
  for (const name of there) renameSync(join(dataDir, name), join(aside, name))
  return there
}

function isWell(file: string): boolean {
  let raw: Database.Database | undefined
  try {
    raw = new Database(file, { readonly: true, timeout: 1000 })
    return raw.pragma('quick_check(1)', { simple: true }) === 'ok'
  } catch (error) {
    if (error instanceof Database.SqliteError && /^SQLITE_(CORRUPT|NOTADB|IOERR)/.test(error.code)) return false
    throw error
  } finally {
    raw?.close()
  }
}
