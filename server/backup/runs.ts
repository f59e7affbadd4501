import type { Db } from '../db/open.ts'
import type { BackupRunRow } from '../db/people-tables.ts'

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
