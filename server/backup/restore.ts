import { copyFile, mkdir, rm } from 'node:fs/promises'
import { join } from 'node:path'
import { migrations } from '../../migrations/index.ts'
import { migrate } from '../db/migrate.ts'
import { openDb, type Db } from '../db/open.ts'
import { currentViewer } from '../rights/viewer.ts'
import { flush, placeAgain } from './disk.ts'
import type { Manifest } from './manifest.ts'
import { forgetNewestChange, noteNewestChange } from './newest-change.ts'
import { backupName, backupsFolder, DATABASE, partialName } from './place.ts'
import { alone, recordBackup } from './run.ts'
import { insertRestore, insertRun, listRestores, type BackupRun, type RestoreRun } from './runs.ts'
import { ALL_PAGES, type TakenBackup } from './take.ts'
import { verifyBackup } from './verify.ts'

export interface RestoreOptions {
  readonly db: Db
  readonly dataDir: string
  readonly now: () => Date
  /** Of the backup. */
  readonly folder: string
}

export interface Restored {
  readonly manifest: Manifest
  /** What was there before; undefined where there was nothing. */
  readonly safety: TakenBackup | undefined
}

/** Nothing was changed, unless it says so; the message says why, in sentences. */
export class RestoreRefusal extends Error {}

/** Of notebooks that are being replaced: what is written now would be lost. */
const paused = new WeakSet<Db>()
export const isPaused = (db: Db): boolean => paused.has(db)

/**
 * Puts a backup in the place of what is there. All that can fail comes first: the backup is looked at wholly, a safety
 * copy is made, the new content is made ready aside and brought up to date, its photographs are laid beside the present
 * ones. Then the database takes over the new content in one transaction of its own, through SQLite's own copying: a
 * power cut leaves the old notebook or the new one, and a program that has it open, this one or another, sees the new
 * one with its next question.
 * @throws RestoreRefusal
 */
export async function restoreBackup(options: RestoreOptions): Promise<Restored> {
  const { db, dataDir, folder } = options
  if (db.raw.memory)
    throw new RestoreRefusal('This notebook lives in memory only, so there is nothing to restore into.')
  const verdict = await verifyBackup(folder)
  if (!verdict.ok) throw new RestoreRefusal(`This backup cannot be restored. ${verdict.problems.join(' ')}`)
  return alone(dataDir, async () => {
    paused.add(db)
    try {
      return await replace(options, verdict.manifest)
    } finally {
      paused.delete(db)
    }
  })
}

async function replace({ db, dataDir, now, folder }: RestoreOptions, manifest: Manifest): Promise<Restored> {
  const before = dataVersion(db)
  const hadContent = db.raw.prepare<[], number>('select count(*) from sqlite_schema').pluck().get()! > 0
  const safety = hadContent ? await recordBackup({ db, dataDir, now, reason: 'before-restore' }) : undefined
  const aside = join(backupsFolder(dataDir), partialName(`restore-${backupName(now())}`))
  await mkdir(aside, { recursive: true })
  try {
    const run = { at: now().toISOString(), backup_at: manifest.at, safety: safety?.name ?? '' }
    const staged = await makeReady(join(folder, DATABASE), aside, hadContent ? db : undefined, run)
    try {
      await layPhotos(folder, dataDir, manifest)
      if (dataVersion(db) !== before)
        throw new RestoreRefusal(
          'Another program wrote to the notebook meanwhile. Nothing was replaced; please try again.',
        )
      forgetNewestChange(dataDir)
      await takeOver(staged, db)
      noteNewestChange(db, dataDir)
    } finally {
      staged.close()
    }
  } finally {
    // Swept at the next start where it stays; the restore is done or was refused without it.
    await rm(aside, { recursive: true, force: true }).catch(() => undefined)
  }
  return { manifest, safety }
}

/** Changes when another connection than ours wrote. */
const dataVersion = (db: Db) => db.raw.pragma('data_version', { simple: true })

/**
 * A copy of the backup's database, brought to the present structure. Who was signed in then is signed in no more, and
 * links of then are void. The list of backups is about the disk, not about then, so the present one is carried over; what
 * is restored now is noted.
 */
async function makeReady(database: string, aside: string, present: Db | undefined, run: Restoring): Promise<Db> {
  const path = join(aside, DATABASE)
  await copyFile(database, path)
  const staged = openDb(path)
  try {
    migrate(staged.raw, { migrations })
    staged.write(() => {
      staged.raw.exec('delete from session; delete from one_time_link')
      if (present) carryRuns(present, staged)
      noteRestore(staged, present, run)
    })
    staged.raw.pragma('wal_checkpoint(truncate)')
    staged.raw.pragma('journal_mode = delete')
    return staged
  } catch (error) {
    staged.close()
    throw error
  }
}

function carryRuns(present: Db, staged: Db): void {
  const rows = present.raw
    .prepare<[], BackupRun>('select at, file, bytes, ok, message from backup_run order by id')
    .all()
  staged.raw.exec('delete from backup_run')
  for (const row of rows) insertRun(staged, row)
}

type Restoring = Omit<RestoreRun, 'by_name'>

/**
 * The log of changes goes back with the rest, so that it would not know of this. Restores that the backup does not know
 * of yet are carried over too.
 */
function noteRestore(staged: Db, present: Db | undefined, run: Restoring): void {
  const viewer = currentViewer()
  const known = new Set(listRestores(staged).map(({ at }) => at))
  const earlier = present ? listRestores(present).filter(({ at }) => !known.has(at)) : []
  const byName = viewer.kind === 'member' ? viewer.name : ''
  for (const each of [...earlier, { ...run, by_name: byName }]) insertRestore(staged, each)
}

/** Photographs never change, so those of the backup are laid beside the present ones; `admin check` names the spare ones. */
async function layPhotos(folder: string, dataDir: string, { files }: Manifest): Promise<void> {
  const folders = new Set<string>([dataDir])
  for (const { path } of files) {
    if (path === DATABASE) continue
    const to = join(dataDir, path)
    if (!(await placeAgain(join(folder, path), to))) throw new RestoreRefusal(`${path} is missing from the backup.`)
    const steps = path.split('/').slice(0, -1)
    steps.forEach((_, at) => folders.add(join(dataDir, ...steps.slice(0, at + 1))))
  }
  for (const each of folders) await flush(each)
}

const MOST_TURNS = 2000

async function takeOver(staged: Db, db: Db): Promise<void> {
  const before = dataVersion(db)
  let turns = 0
  await staged.raw.backup(db.raw.name, {
    // All at once: the lock is held for one go, and an answer that is refused meanwhile is asked again a moment later.
    progress: () => {
      if (++turns > MOST_TURNS) throw new RestoreRefusal('Another program holds the notebook, so nothing was replaced.')
      return ALL_PAGES
    },
  })
  // A lock at the very first step ends the copying without a word, and without a turn.
  if (turns === 0 || dataVersion(db) === before)
    throw new RestoreRefusal('Another program holds the notebook, so nothing was replaced; please try again.')
  // The copying wrote the log without waiting for the disk; this waits.
  try {
    db.raw.pragma('wal_checkpoint(truncate)')
  } catch (error) {
    throw new RestoreRefusal(NOT_FLUSHED, { cause: error })
  }
}

const NOT_FLUSHED =
  'The backup is in the place of what was there, but the disk refused to keep it for good: it may be failing. Look at “Check now”, then restore once more.'
