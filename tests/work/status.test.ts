import { describe, expect, test } from 'vitest'
import { listDayConflicts, pieceStatus, type PieceDays } from '../../shared/work/status.ts'

describe('pieceStatus(days)', () => {
  test.each<[PieceDays, string, string | undefined]>([
    [{}, 'planned', undefined],
    [{ plannedOn: '2026-01-05' }, 'planned', '2026-01-05'],
    [{ plannedOn: '2026-01-05', onLoomOn: '2026-02-01' }, 'onLoom', '2026-02-01'],
    [{ onLoomOn: '2026-02-01', wovenOn: '2026-03-20' }, 'woven', '2026-03-20'],
    [{ plannedOn: '2026-01-05', finishedOn: '2026-03-22' }, 'finished', '2026-03-22'],
    [{ onLoomOn: '2026-02-01', wovenOn: '2026-02-01', finishedOn: '2026-02-01' }, 'finished', '2026-02-01'],
    [{ setAsideOn: '2026-02-10' }, 'setAside', '2026-02-10'],
    [{ onLoomOn: '2026-02-01', setAsideOn: '2026-02-01' }, 'setAside', '2026-02-01'],
    [{ wovenOn: '2026-02-01', setAsideOn: '2026-03-01' }, 'setAside', '2026-03-01'],
    [{ onLoomOn: '2026-02-01', setAsideOn: '2026-03-01', wovenOn: '2026-06-01' }, 'woven', '2026-06-01'],
    [{ setAsideOn: '2026-03-01', onLoomOn: '2026-04-01' }, 'onLoom', '2026-04-01'],
  ])('of %o is %s since %s', (days, status, on) => {
    expect(pieceStatus(days)).toEqual({ status, on })
  })

  test('refuses a day that is not one', () => {
    expect(() => pieceStatus({ wovenOn: 'May' })).toThrow(
      new RangeError('wovenOn must be a day such as 2026-03-14, not "May"'),
    )
  })
})

describe('listDayConflicts(days)', () => {
  test.each<[PieceDays, string[]]>([
    [{}, []],
    [{ plannedOn: '2026-02-01', onLoomOn: '2026-02-01', wovenOn: '2026-02-01', finishedOn: '2026-02-01' }, []],
    [{ wovenOn: '2026-05-09', finishedOn: '2026-05-01' }, ['finishedOn before wovenOn']],
    [{ plannedOn: '2026-05-09', finishedOn: '2026-05-01' }, ['finishedOn before plannedOn']],
    [
      { plannedOn: '2026-05-09', onLoomOn: '2026-05-08', wovenOn: '2026-05-07' },
      ['onLoomOn before plannedOn', 'wovenOn before onLoomOn'],
    ],
    [{ plannedOn: '2026-05-09', setAsideOn: '2026-05-08' }, ['setAsideOn before plannedOn']],
    [{ onLoomOn: '2026-05-09', setAsideOn: '2026-05-08' }, []],
    [{ finishedOn: '2026-05-08', setAsideOn: '2026-05-09' }, ['finishedOn before setAsideOn']],
  ])('of %o are %o', (days, expected) => {
    expect(listDayConflicts(days).map(({ day, before }) => `${day} before ${before}`)).toEqual(expected)
  })
})
