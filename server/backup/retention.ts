import type { KeptBackup } from './list.ts'

/** Of the backups that the server makes by itself: the newest of each of the last so many days, weeks and months. */
export const KEEP = { days: 7, weeks: 4, months: 12 } as const

/**
 * Which of the server's own backups may go. Those that somebody asked for, and those made before a restore, stay until
 * somebody takes them away; so does the newest of all.
 * @param backups the newest first
 */
export function listSpare(backups: readonly Pick<KeptBackup, 'name' | 'at' | 'reason'>[]): string[] {
  const own = backups.filter(({ reason }) => reason === 'scheduled')
  const kept = new Set([
    ...(backups[0] ? [backups[0].name] : []),
    ...newestOfEach(own, dayOf, KEEP.days),
    ...newestOfEach(own, weekOf, KEEP.weeks),
    ...newestOfEach(own, (at) => dayOf(at).slice(0, 7), KEEP.months),
  ])
  return own.map(({ name }) => name).filter((name) => !kept.has(name))
}

type Dated = Pick<KeptBackup, 'name' | 'at'>

function newestOfEach(backups: readonly Dated[], spanOf: (at: Date) => string, most: number): string[] {
  const newest = new Map<string, string>()
  for (const { name, at } of backups) if (!newest.has(spanOf(at))) newest.set(spanOf(at), name)
  return [...newest.values()].slice(0, most)
}

const DAY_MS = 86_400_000
const dayOf = (at: Date) => at.toISOString().slice(0, 10)
/** The Monday on which the week began. */
const weekOf = (at: Date) => dayOf(new Date(at.getTime() - ((at.getUTCDay() + 6) % 7) * DAY_MS))
