import { resolve } from 'node:path'
import type { Db } from '../db/open.ts'
import { noteIfPossible } from '../disk-fault.ts'
import { sayFailure } from './failure.ts'
import { listBackups } from './list.ts'
import { bytesOf, type BackupReason } from './manifest.ts'
import { backupsFolder } from './place.ts'
import { listSpare } from './retention.ts'
import { insertRun, type BackupRun } from './runs.ts'
import { deleteBackup } from './sweep.ts'
import { takeBackup, type TakenBackup } from './take.ts'

export interface RunOptions {
  readonly db: Db
  readonly dataDir: string
  readonly now: () => Date
  readonly reason: BackupReason
  /** Another folder than the notebook's own, say on another disk. */
  readonly to?: string | undefined
  readonly pagesAtOnce?: number
}

/** One is being made already. */
export class BackupUnderWay extends Error {
  constructor() {
    super('A backup is being made or restored just now; wait until it is done.')
  }
}

const underWay = new Set<string>()

/** Keeps backups and restores of one notebook from getting between each other, within this process. */
export async function alone<T>(dataDir: string, work: () => Promise<T>): Promise<T> {
  const key = resolve(dataDir)
  if (underWay.has(key)) throw new BackupUnderWay()
  underWay.add(key)
  try {
    return await work()
  } finally {
    underWay.delete(key)
  }
}

/** Makes a backup and writes down what came of it, failures too. */
export async function runBackup(options: RunOptions): Promise<TakenBackup> {
  return alone(options.dataDir, () => recordBackup(options))
}

/** As `runBackup`, for somebody who is alone already. */
export async function recordBackup({ to, ...options }: RunOptions): Promise<TakenBackup> {
  const { db, dataDir, now } = options
  const at = now().toISOString()
  try {
    const taken = await takeBackup({ ...options, to: to ?? backupsFolder(dataDir) })
    // It is there, whether the notebook can be written to or not.
    noteIfPossible(() => insertRun(db, runOf(taken, to)))
    return taken
  } catch (error) {
    try {
      insertRun(db, { at, file: to ? resolve(to) : '', bytes: 0, ok: 0, message: sayFailure(error) })
    } catch {
      // A full disk takes this row neither; who asked is told, and the log has the first error.
    }
    throw error
  }
}

export function runOf({ name, folder, manifest }: TakenBackup, to?: string): BackupRun {
  return { at: manifest.at, file: to ? resolve(folder) : name, bytes: bytesOf(manifest), ok: 1, message: '' }
}

/** Takes the spare ones of the server's own backups away. */
export function prune(dataDir: string): string[] {
  const spare = listSpare(listBackups(dataDir))
  for (const name of spare) deleteBackup(dataDir, name)
  return spare
}
