import type { Db } from '../db/open.ts'
import type { BackupRunRow, RestoreRunRow } from '../db/people-tables.ts'

/** What came of an attempt; `file` is the backup's name here, a whole path where it was put elsewhere. */
export type BackupRun = Pick<BackupRunRow, 'at' | 'file' | 'bytes' | 'ok' | 'message'>

export function insertRun(db: Db, run: BackupRun): void {
  db.run(db.sql.insertInto('backup_run').values(run))
}

/** The newest first. */
export function listRuns(db: Db, most: number): BackupRun[] {
  return db.all(
    db.sql.selectFrom('backup_run').select(['at', 'file', 'bytes', 'ok', 'message']).orderBy('id', 'desc').limit(most),
  )
}

/** A restore: when and by whom, how old the backup was, and the name of the copy of what was there before. */
export type RestoreRun = Pick<RestoreRunRow, 'at' | 'by_name' | 'backup_at' | 'safety'>

/** Its trigger tells the log of changes. */
export function insertRestore(db: Db, run: RestoreRun): void {
  db.run(db.sql.insertInto('restore_run').values(run))
}

/** The oldest first. */
export function listRestores(db: Db): RestoreRun[] {
  return db.all(db.sql.selectFrom('restore_run').select(['at', 'by_name', 'backup_at', 'safety']).orderBy('id'))
}
