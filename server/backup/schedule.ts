import type { Db } from '../db/open.ts'
import { asViewer, PROGRAM } from '../rights/viewer.ts'
import { BackupUnderWay, prune, runBackup } from './run.ts'
import { listRuns, type BackupRun } from './runs.ts'

const HOUR_MS = 3_600_000
export const DAY_MS = 24 * HOUR_MS
const LOOK_MS = 60_000

/**
 * When the server makes the next backup by itself: a day after the last good one in the notebook's own folder, an hour
 * after an attempt that failed. A clock that was set back does not put it off.
 * @param runs the newest first
 */
export function nextDue(runs: readonly BackupRun[], now: Date): Date {
  const ours = runs.filter(({ file }) => !/[/\\]/.test(file))
  const good = ours.find(({ ok }) => ok === 1)
  const last = ours[0]
  const at = (run: BackupRun | undefined, wait: number) => {
    const due = run ? Date.parse(run.at) + wait : now.getTime()
    return due > now.getTime() + wait ? now.getTime() : due
  }
  const due = at(good, DAY_MS)
  return new Date(last?.ok === 0 ? Math.max(due, at(last, HOUR_MS)) : due)
}

export interface ScheduleOptions {
  readonly db: Db
  readonly dataDir: string
  readonly now: () => Date
  readonly onBroken: (error: unknown) => void
}

/** Looks every minute whether one is due, so that sleep and a clock that is set do no harm. @returns stops it */
export function scheduleBackups({ db, dataDir, now, onBroken }: ScheduleOptions): () => void {
  const look = async () => {
    try {
      if (nextDue(listRuns(db, 100), now()) > now()) return
      await asViewer(PROGRAM, () => runBackup({ db, dataDir, now, reason: 'scheduled' }))
      prune(dataDir)
    } catch (error) {
      if (!(error instanceof BackupUnderWay)) onBroken(error)
    }
  }
  const timer = setInterval(() => void look(), LOOK_MS)
  timer.unref()
  return () => clearInterval(timer)
}
