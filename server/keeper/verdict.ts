import type { BackupRun } from '../backup/runs.ts'
import { DAY_MS } from '../backup/schedule.ts'
import { sayWhen } from './say.ts'
import { LEAST_FREE_SHARE, sayBytes, WARN_FREE_SHARE, type Space } from './space.ts'

/** How the notebook stands today. */
export interface Facts {
  readonly now: Date
  readonly zone: string
  /** Of the newest good backup in the notebook's own folder. */
  readonly lastGoodAt: Date | undefined
  readonly lastRun: BackupRun | undefined
  readonly space: Space
  readonly isDemo: boolean
}

/** What keeps the notebook from being safe, each with what to do. */
export interface Worry {
  readonly what: string
  readonly todo: string
}

/** Two days: a night that was missed is made up for the next day, before anybody is worried. */
const OLD_MS = 2 * DAY_MS

/** Empty when the notebook is safe today. */
export function listWorries({ now, zone, lastGoodAt, lastRun, space, isDemo }: Facts): Worry[] {
  const worries: Worry[] = []
  if (isDemo)
    worries.push({
      what: 'This is the demo: all of it is gone when the program ends.',
      todo: 'Start the program without the demo to keep a notebook.',
    })
  else if (!lastGoodAt)
    worries.push({ what: 'There is no backup yet.', todo: 'Press “Back up now”; it takes a few seconds.' })
  else if (now.getTime() - lastGoodAt.getTime() > OLD_MS) {
    const days = Math.floor((now.getTime() - lastGoodAt.getTime()) / DAY_MS)
    worries.push({
      what: `The last good backup is ${days} days old.`,
      todo: 'Press “Back up now”. By itself the program makes one a day while it runs.',
    })
  }
  if (lastRun?.ok === 0)
    worries.push({
      what: `The last attempt, ${sayWhen(new Date(lastRun.at), now, zone)}, failed. ${lastRun.message}`,
      todo: 'Put that right, then press “Back up now”. Nothing in the notebook itself was touched.',
    })
  if (space.freeShare < WARN_FREE_SHARE)
    worries.push({
      what: `The disk is nearly full: ${sayBytes(space.freeBytes)} of ${sayBytes(space.totalBytes)} are free.`,
      todo:
        space.freeShare <= LEAST_FREE_SHARE
          ? 'Make room now: when it is full, nothing can be saved and no backup can be made.'
          : 'Make room soon: move old backups to another disk, or other files away.',
    })
  return worries
}
