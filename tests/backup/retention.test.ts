import { describe, expect, test } from 'vitest'
import { listSpare } from '../../server/backup/retention.ts'
import { nextDue } from '../../server/backup/schedule.ts'
import type { BackupRun } from '../../server/backup/runs.ts'

const DAY_MS = 86_400_000
const END = Date.parse('2026-11-24T01:00:00Z')
/** One a day, the newest first. */
const daily = (days: number) =>
  Array.from({ length: days }, (_, back) => {
    const at = new Date(END - back * DAY_MS)
    return { name: at.toISOString().slice(0, 10), at, reason: 'scheduled' as const }
  })

describe('listSpare(backups)', () => {
  test('keeps 7 days, 4 weeks and 12 months of two years of daily ones', () => {
    const all = daily(730)
    const spare = new Set(listSpare(all))
    const kept = all.map(({ name }) => name).filter((name) => !spare.has(name))
    // Newest of each week: Sundays, by hand from the calendar of 2026; newest of each month: its last day.
    expect(kept).toEqual([
      ...['2026-11-24', '2026-11-23', '2026-11-22', '2026-11-21', '2026-11-20', '2026-11-19', '2026-11-18'],
      ...['2026-11-15', '2026-11-08', '2026-10-31', '2026-09-30', '2026-08-31', '2026-07-31', '2026-06-30'],
      ...['2026-05-31', '2026-04-30', '2026-03-31', '2026-02-28', '2026-01-31', '2025-12-31'],
    ])
  })

  test('never takes the newest, nor what somebody asked for', () => {
    expect(listSpare([])).toEqual([])
    expect(listSpare(daily(1))).toEqual([])
    const old = daily(40).map((backup) => ({ ...backup, reason: 'asked' as const }))
    expect(listSpare(old)).toEqual([])
  })

  test('of several on one day keeps the newest', () => {
    const [first] = daily(1)
    const earlier = { ...first!, name: 'earlier', at: new Date(END - 60_000) }
    expect(listSpare([first!, earlier])).toEqual(['earlier'])
  })
})

describe('nextDue(runs, now)', () => {
  const now = new Date('2026-11-24T12:00:00Z')
  const run = (at: string, ok: 0 | 1, file = 'x'): BackupRun => ({ at, ok, file, bytes: 1, message: '' })
  const due = (...runs: BackupRun[]) => nextDue(runs, now).toISOString()

  test('is now while there is none, and a day after the last good one', () => {
    expect(due()).toBe(now.toISOString())
    expect(due(run('2026-11-24T01:00:00.000Z', 1))).toBe('2026-11-25T01:00:00.000Z')
  })

  test('is an hour after one that failed', () => {
    expect(due(run('2026-11-24T11:30:00.000Z', 0, ''), run('2026-11-22T01:00:00.000Z', 1))).toBe(
      '2026-11-24T12:30:00.000Z',
    )
    expect(due(run('2026-11-24T11:30:00.000Z', 0, ''))).toBe('2026-11-24T12:30:00.000Z')
  })

  test('does not count one that was put elsewhere, nor wait for a clock that was set back', () => {
    expect(due(run('2026-11-24T11:00:00.000Z', 1, '/media/stick/x'))).toBe(now.toISOString())
    expect(due(run('2027-11-24T11:00:00.000Z', 1))).toBe(now.toISOString())
  })
})
