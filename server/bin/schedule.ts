import type { Db } from '../db/open.ts'
import { asViewer, PROGRAM } from '../rights/viewer.ts'
import { BIN_DAYS, purgeBefore } from './queries.ts'

const HOUR_MS = 3_600_000

export interface ScheduleOptions {
  readonly db: Db
  readonly now: () => Date
  readonly onBroken: (error: unknown) => void
}

/** Empties the bin of what has lain there its days, at once and every hour. @returns stops it */
export function scheduleBin({ db, now, onBroken }: ScheduleOptions): () => void {
  const look = () => {
    try {
      const limit = new Date(now().getTime() - BIN_DAYS * 24 * HOUR_MS).toISOString()
      asViewer(PROGRAM, () => purgeBefore(db, limit))
    } catch (error) {
      onBroken(error)
    }
  }
  look()
  const timer = setInterval(look, HOUR_MS)
  timer.unref()
  return () => clearInterval(timer)
}
