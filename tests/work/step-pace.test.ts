import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { StepKind } from '../../shared/loom/step.ts'
import { quartilesOf } from '../../shared/measure/quartile.ts'
import { exponentOfRate, fitLearning, unitMinutes } from '../../shared/work/learning.ts'
import { trendOf } from '../../shared/work/pace-across.ts'
import { DEFAULT_LIMITS, listStepGaps, type TimedStep } from '../../shared/work/step-gap.ts'
import { fatigueOf, listRepeatTimes, listTimedPicks, listTrouble, secondsByKind } from '../../shared/work/step-pace.ts'
import { expectWithin } from '../measure/reference.ts'

const T0 = Date.parse('2026-11-20T09:00:00Z')

/** Steps as `[seconds since the one before, kind]`. */
function steps(told: readonly (readonly [seconds: number, kind: StepKind])[]): TimedStep[] {
  let [ms, place] = [T0, 0]
  return told.map(([seconds, kind]) => {
    ms += Math.round(seconds * 1000)
    place += kind === 'woven' ? 1 : kind === 'unwoven' || kind === 'back' ? -1 : 0
    return { at: new Date(ms).toISOString(), kind, place }
  })
}
const gapsOf = (told: readonly (readonly [number, StepKind])[]) => listStepGaps(steps(told), DEFAULT_LIMITS)

// Hyndman and Fan's definition 7; the values for 1 to 4 follow from it by hand.
test('quartilesOf takes values in any order', () => {
  expect(quartilesOf([4, 1, 3, 2])).toEqual({ low: 1.75, median: 2.5, high: 3.25, n: 4 })
  expect(quartilesOf([7])).toEqual({ low: 7, median: 7, high: 7, n: 1 })
  expect(() => quartilesOf([])).toThrow(RangeError)
})

describe('listTimedPicks(sittings, picksPerRepeat)', () => {
  test('gives no time to the first pick, nor to one after a break, a slip or a pause', () => {
    const told = gapsOf([
      ...([
        [0, 'woven'],
        [20, 'woven'],
        [400, 'woven'],
        [25, 'woven'],
        [5, 'slip'],
        [30, 'woven'],
      ] as const),
      ...([
        [3, 'pause'],
        [10, 'woven'],
        [40, 'unwoven'],
        [22, 'woven'],
      ] as const),
    ])
    expect(listTimedPicks(told, 4)).toEqual([
      [
        { place: 2, pick: 2, seconds: 20 },
        { place: 4, pick: 4, seconds: 25 },
        { place: 6, pick: 2, seconds: 22 },
      ],
    ])
  })
})

describe('listRepeatTimes(sittings, picksPerRepeat)', () => {
  test('takes unweaving along, leaves breaks out, and fills in what has no time by the median of the repeat', () => {
    const told = gapsOf([
      ...([
        [0, 'woven'],
        [60, 'woven'],
        [60, 'woven'],
        [60, 'woven'],
      ] as const),
      ...([
        [30, 'woven'],
        [30, 'unwoven'],
        [30, 'woven'],
        [600, 'woven'],
        [30, 'woven'],
        [30, 'woven'],
      ] as const),
    ])
    expect(listRepeatTimes(told, 4)).toEqual([
      { repeat: 1, minutes: 4, filled: 1 },
      { repeat: 2, minutes: 3, filled: 1 },
    ])
  })

  test('leaves out a repeat that was not followed to its end, or is filled in by more than a quarter', () => {
    expect(
      listRepeatTimes(
        gapsOf([
          [0, 'woven'],
          [60, 'woven'],
          [60, 'woven'],
        ]),
        4,
      ),
    ).toEqual([])
    expect(
      listRepeatTimes(
        gapsOf([
          [0, 'woven'],
          [400, 'woven'],
          [60, 'woven'],
          [60, 'woven'],
        ]),
        4,
      ),
    ).toEqual([])
  })

  test('gives the learning curve again that the steps were taken by', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.7, max: 1.05, noNaN: true }),
        fc.integer({ min: 5, max: 9 }),
        fc.integer({ min: 4, max: 12 }),
        (rate, repeats, picks) => {
          const exponent = exponentOfRate(rate)
          const told = Array.from({ length: repeats * picks }, (_, at) => {
            const minutes = unitMinutes(12, exponent, Math.floor(at / picks) + 1)
            return [at === 0 ? 0 : (minutes * 60) / picks, 'woven'] as const
          })
          const times = listRepeatTimes(gapsOf(told), picks)
          expect(times).toHaveLength(repeats)
          const curve = fitLearning(times)
          // The instants are kept to the millisecond.
          expectWithin(curve?.ratePerDoubling, rate, 1e-4)
          expectWithin(curve?.firstRepeatMinutes, 12, 1e-4)
        },
      ),
      { numRuns: 40 },
    )
  })
})

test('secondsByKind puts the slowest kind first, with its median and how many picks it stands on', () => {
  const told = gapsOf([
    [0, 'woven'],
    [10, 'woven'],
    [30, 'woven'],
    [12, 'woven'],
    [34, 'woven'],
    [14, 'woven'],
  ])
  expect(secondsByKind(listTimedPicks(told, 2).flat(), (pick) => pick)).toEqual([
    { kind: 1, seconds: { low: 31, median: 32, high: 33, n: 2 } },
    { kind: 2, seconds: { low: 11, median: 12, high: 13, n: 3 } },
  ])
})

test('listTrouble counts slips and unweaving by pick of the repeat, beside how often it was woven', () => {
  const told = gapsOf([
    ...([
      [0, 'woven'],
      [10, 'woven'],
      [10, 'slip'],
      [10, 'unwoven'],
      [10, 'woven'],
      [10, 'woven'],
    ] as const),
    ...([
      [10, 'woven'],
      [10, 'woven'],
      [10, 'woven'],
      [10, 'slip'],
    ] as const),
  ])
  expect(listTrouble(told, 3)).toEqual([
    { pick: 2, woven: 3, slips: 1, unwoven: 1 },
    { pick: 3, woven: 2, slips: 1, unwoven: 0 },
  ])
})

describe('fatigueOf(timed, kindOf)', () => {
  const sitting = (first: number, last: number, n: number) =>
    Array.from({ length: n }, (_, at) => ({ place: at + 1, pick: 1, seconds: at < n / 2 ? first : last }))

  test('says nothing under four sittings of 30 timed picks', () => {
    expect(
      fatigueOf(
        [1, 2, 3].map(() => sitting(20, 30, 30)),
        () => 1,
      ),
    ).toBeNull()
    expect(
      fatigueOf(
        [1, 2, 3, 4].map(() => sitting(20, 30, 29)),
        () => 1,
      ),
    ).toBeNull()
  })

  test('is the last third beside the first, with an interval over the sittings', () => {
    const found = fatigueOf(
      [30, 31, 29, 30].map((last) => sitting(20, last, 30)),
      () => 1,
    )
    expectWithin(found?.ratio, 1.5, 1e-2)
    expect(found?.interval[0]).toBeLessThan(1.5)
    expect(found?.interval[1]).toBeGreaterThan(1.5)
    expect(found).toMatchObject({ sittings: 4, picks: 120 })
  })

  test('is not misled by a hard stretch of the pattern', () => {
    const kinds = [1, 2, 3, 4].map((shift) =>
      Array.from({ length: 30 }, (_, at) => ({
        ...{ place: at + 1, pick: at < 15 ? 1 : 2, seconds: (at < 15 ? 10 : 40) + ((at * shift) % 3) },
      })),
    )
    const found = fatigueOf(kinds, (pick) => pick)
    expect(found?.ratio).toBeGreaterThan(0.9)
    expect(found?.ratio).toBeLessThan(1.1)
  })
})

describe('trendOf(points)', () => {
  const points = (n: number) => Array.from({ length: n }, (_, at) => ({ x: at, seconds: 10 * 1.1 ** at }))

  test('claims nothing on fewer than five pieces, or where all have the same measure', () => {
    expect(trendOf(points(4))).toBeNull()
    expect(trendOf(points(6).map((point) => ({ ...point, x: 3 })))).toBeNull()
    expect(() => trendOf([{ x: 1, seconds: 0 }])).toThrow('points[0].seconds')
  })

  test('finds by which share one more makes a pick longer', () => {
    const found = trendOf(points(5))
    expectWithin(found?.factor, 1.1, 1e-9)
    expect(found).toMatchObject({ n: 5, isClear: true })
    const scattered = [12, 9, 14, 10, 11].map((seconds, x) => ({ x, seconds }))
    expect(trendOf(scattered)?.isClear).toBe(false)
  })
})

// Common practice, no source: two repeats of 9 cm in an hour and a half are 12 cm/h. By steps: 72 picks a repeat, 37.5 s each.
test('144 picks of 37.5 s are two repeats of 45 minutes: with 9 cm a repeat, 12 cm/h', () => {
  const told = Array.from({ length: 144 }, (_, at) => [at === 0 ? 0 : 37.5, 'woven'] as const)
  const times = listRepeatTimes(gapsOf(told), 72)
  expect(times.map(({ minutes }) => minutes)).toEqual([45, 45])
  expect((2 * 9) / (times.reduce((sum, { minutes }) => sum + minutes, 0) / 60)).toBe(12)
})
