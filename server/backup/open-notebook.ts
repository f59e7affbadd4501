import { existsSync, statSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { migrations } from '../../migrations/index.ts'
import { migrate } from '../db/migrate.ts'
import { openFile, refusing } from '../db/notebook.ts'
import { APPLICATION_ID, NotebookRefusal, type Db } from '../db/open.ts'
import { count } from '../check/finding.ts'
import { listPhotoFiles } from '../photo/check.ts'
import { listBackups } from './list.ts'
import { changesLost, noteNewestChange } from './newest-change.ts'
import { backupsFolder, DATABASE } from './place.ts'
import { sweepPartials } from './sweep.ts'

/**
 * Opens the notebook of a folder for a server: looks at what is there before a byte of it is changed, brings it up to
 * date, and holds SQLite to what acknowledged work rests on.
 * @param today goes into the name of the copy before a new structure
 * @throws NotebookRefusal with a sentence that says what to do
 */
export function openNotebook(dataDir: string, today: string): Db {
  const file = join(dataDir, DATABASE)
  refuseLost(file, dataDir)
  refusing(file, () => refuseDamaged(file, dataDir))
  const db = openFile(file)
  try {
    migrate(db.raw, { migrations, copyTo: backupsFolder(dataDir), today })
    assertFooting(db)
  } catch (error) {
    db.close()
    throw error
  }
  sweepPartials(dataDir)
  noteNewestChange(db, dataDir)
  return db
}

/** An empty file passes every check of SQLite: it would be taken for a new notebook, and the old one for gone. */
function refuseLost(file: string, dataDir: string): void {
  if (existsSync(file) && statSync(file).size > 0) return
  if (listBackups(dataDir).length === 0 && listPhotoFiles(dataDir).length === 0) return
  const what = existsSync(file) ? `${file} is empty` : `${file} is not there`
  throw new NotebookRefusal(
    `${what}, though there are photographs or backups of this notebook in ${dataDir}, so it was not begun anew. ${adviceOf(dataDir)}`,
  )
}

function refuseDamaged(file: string, dataDir: string): void {
  if (!existsSync(file) || statSync(file).size === 0) return
  // Reading alone, so that not even the log is written into a file that is damaged.
  const raw = new Database(file, { readonly: true, timeout: 1000 })
  try {
    const found = raw.pragma('quick_check(1)', { simple: true })
    if (found !== 'ok') throw damaged(file, dataDir)
    const lost = changesLost(raw, dataDir)
    if (lost > 0) throw older(file, dataDir, lost)
  } catch (error) {
    if (!(error instanceof Database.SqliteError)) throw error
    // Without a backup it may never have been ours, and the opening says so.
    if (error.code === 'SQLITE_NOTADB' && listBackups(dataDir).length === 0) return
    if (error.code === 'SQLITE_NOTADB') throw damaged(file, dataDir)
    if (error.code.startsWith('SQLITE_CORRUPT') || error.code.startsWith('SQLITE_IOERR')) throw damaged(file, dataDir)
    throw error
  } finally {
    raw.close()
  }
}

const damaged = (file: string, dataDir: string) =>
  new NotebookRefusal(`${file} is damaged; it was left as it is. ${adviceOf(dataDir)}`)

const older = (file: string, dataDir: string, lost: number) =>
  new NotebookRefusal(
    `${file} lacks the newest ${count(lost, 'change')}: the file ${DATABASE}-wal beside it was deleted, or an older copy was put in its place. It was left as it is; if you still have that file, put it back. ${adviceOf(dataDir)}. To go on with this older one, delete the file newest-change beside it.`,
  )

function adviceOf(dataDir: string): string {
  const newest = listBackups(dataDir)[0]
  if (!newest) return 'There is no backup beside it; put one of yours back before the next start.'
  return `The newest good backup is ${newest.name}: npm run admin -- restore ${newest.name}`
}

/** 3.51.3 mended a fault in which two connections could damage the log. */
const OLDEST_SQLITE = [3, 51, 3] as const

function assertFooting({ raw }: Db): void {
  const version = raw.prepare<[], string>('select sqlite_version()').pluck().get()!
  const found: Record<string, unknown> = {
    journal_mode: raw.pragma('journal_mode', { simple: true }),
    synchronous: raw.pragma('synchronous', { simple: true }),
    foreign_keys: raw.pragma('foreign_keys', { simple: true }),
    application_id: raw.pragma('application_id', { simple: true }),
  }
  const wanted: Record<string, unknown> = {
    ...{ journal_mode: 'wal', synchronous: 2, foreign_keys: 1, application_id: APPLICATION_ID },
  }
  for (const [name, value] of Object.entries(wanted)) {
    if (found[name] !== value)
      throw new NotebookRefusal(
        `SQLite works with ${name} ${String(found[name])}, not ${String(value)}, so nothing would be safe.`,
      )
  }
  if (!isAtLeast(version, OLDEST_SQLITE))
    throw new NotebookRefusal(
      `SQLite is ${version}, but must be ${OLDEST_SQLITE.join('.')} or newer; run npm ci again.`,
    )
}

/** Whether `3.53.2` is not older than the three numbers. */
export function isAtLeast(version: string, oldest: readonly [number, number, number]): boolean {
  const parts = version.split('.').map(Number)
  const at = [0, 1, 2].find((index) => parts[index] !== oldest[index])
  return at === undefined || (parts[at] ?? 0) > oldest[at]!
}
