import { describe, expect, test } from 'vitest'
import { calibrationOf } from '../../shared/work/calibration.ts'
import { dayNumber, readyBy } from '../../shared/work/ready-by.ts'

const MONDAY = '2026-11-30'
const every = { hoursPerWeek: 7, weekdays: [1, 2, 3, 4, 5, 6, 7], daysOff: [] }

describe('readyBy(hours, today, working)', () => {
  test.each([
    [0, every, MONDAY, 'nothing to do'],
    [1, every, MONDAY, 'an hour on the first day'],
    [1.01, every, '2026-12-01', 'a little more'],
    [7, every, '2026-12-06', 'a whole week'],
    [10, { ...every, hoursPerWeek: 10, weekdays: [1, 3] }, '2026-12-02', 'two evenings a week'],
    [0.3, { ...every, hoursPerWeek: 0.7 }, '2026-12-02', 'three tenths in tenths of hours'],
    [
      4,
      { ...every, daysOff: [{ from: '2026-12-01', to: '2026-12-03' }] },
      '2026-12-06',
      'three days off, both ends with it',
    ],
    [
      4,
      {
        ...every,
        daysOff: [
          { from: '2026-12-01', to: '2026-12-02' },
          { from: '2026-12-02', to: '2026-12-03' },
        ],
      },
      '2026-12-06',
      'days off that overlap',
    ],
    [98, every, '2027-03-07', 'over the turn of the year'],
  ])('%d h are done by %3$s', (hours, working, day) => {
    expect(readyBy(hours, MONDAY, working)).toBe(day)
  })

  test('counts the days of a leap year', () => {
    expect(readyBy(2, '2028-02-28', every)).toBe('2028-02-29')
    expect(readyBy(3, '2028-02-28', every)).toBe('2028-03-01')
  })

  test('names no day more than twenty years ahead', () => {
    expect(readyBy(100_000, MONDAY, every)).toBeNull()
    expect(readyBy(1, MONDAY, { ...every, daysOff: [{ from: '2026-01-01', to: '2099-01-01' }] })).toBeNull()
  })

  test('refuses weeks without a day, and days that are none', () => {
    expect(() => readyBy(1, MONDAY, { ...every, weekdays: [] })).toThrow('weekdays')
    expect(() => readyBy(1, '2026-02-30', every)).toThrow('day must be')
    expect(() => dayNumber('2026-13-01')).toThrow('day must be')
  })
})

describe('calibrationOf(kept)', () => {
  const held = { low: 8, high: 12, actual: 12 }

  test('counts what held, ends with it, and what took more or less', () => {
    const kept = [held, { ...held, actual: 13 }, { ...held, actual: 7 }, { ...held, actual: 8 }]
    expect(calibrationOf(kept)).toEqual({ n: 4, held: 2, tooShort: 1, tooLong: 1, interval: null })
  })

  // Wilson's interval of 8 in 10, the usual worked example, from memory: 0.490 to 0.943.
  test('gives the share of five and more with its interval', () => {
    const { interval } = calibrationOf([
      ...Array<typeof held>(8).fill(held),
      ...Array<typeof held>(2).fill({ ...held, actual: 20 }),
    ])
    expect(interval?.[0]).toBeCloseTo(0.4902, 4)
    expect(interval?.[1]).toBeCloseTo(0.9433, 4)
    expect(calibrationOf(Array<typeof held>(5).fill(held)).interval?.[1]).toBe(1)
  })
})
