import { describe, expect, test } from 'vitest'
import { addAhead, guessed, rangeOf } from '../../shared/work/hours-ahead.ts'
import { exponentOfRate, unitMinutes } from '../../shared/work/learning.ts'
import { loomPoints, remainingAtLoom } from '../../shared/work/remaining.ts'
import { expectWithin } from '../measure/reference.ts'
import { normals } from './chance.ts'

const weave = (minutes: number, repeats: number) => ({ minutes, breakMinutes: 0, repeats })

describe('loomPoints(sittings)', () => {
  test('counts what was unwoven with the stretch before it, and at the very beginning with the one after it', () => {
    const sittings = [weave(10, 0), weave(60, 2), weave(20, 0), weave(50, 1), { minutes: 30, breakMinutes: 0 }]
    expect(loomPoints(sittings)).toEqual([
      { from: 0, repeats: 2, minutes: 90 },
      { from: 2, repeats: 1, minutes: 50 },
    ])
  })

  test('takes breaks off', () => {
    expect(loomPoints([{ minutes: 90, breakMinutes: 30, repeats: 1 }])[0]?.minutes).toBe(60)
  })
})

describe('remainingAtLoom(points, upTo)', () => {
  const one = (from: number, minutes: number) => ({ from, repeats: 1, minutes })

  test('follows a planted curve of 80 % exactly where nothing scatters', () => {
    const minutes = (repeat: number) => unitMinutes(100, exponentOfRate(0.8), repeat)
    const points = [1, 2, 3, 4, 5].map((repeat) => one(repeat - 1, minutes(repeat)))
    const remaining = remainingAtLoom(points, 8)
    expect(remaining?.by).toBe('learning')
    expectWithin(remaining?.ahead.minutes, minutes(6) + minutes(7) + minutes(8), 1e-9)
    expect(remaining?.ahead.u).toBeLessThan(1e-6)
  })

  test('goes by the pace under four stretches, with the scatter of stretches and of the pace itself', () => {
    const points = [one(0, 60), one(1, 66), one(2, 54)]
    const remaining = remainingAtLoom(points, 5)
    // s = 6 minutes a repeat; for two more repeats 6 x sqrt(2 + 4/3) of 120.
    expect(remaining).toMatchObject({ by: 'pace', n: 3, woven: 3, left: 2 })
    expectWithin(remaining?.ahead.u, (6 * Math.sqrt(2 + 4 / 3)) / 120, 1e-12)
    expect(remaining?.ahead.df).toBe(2)
  })

  test('of one stretch is a guess in its width, and says so; of none it is nothing', () => {
    const remaining = remainingAtLoom([one(0, 60)], 3)
    expect(remaining?.by).toBe('one')
    const range = rangeOf(remaining?.ahead ?? guessed(0))
    expectWithin(range.low, 60, 1e-9)
    expectWithin(range.high, 240, 1e-9)
    expect(remainingAtLoom([], 3)).toBeNull()
  })

  test('is nothing where all is woven', () => {
    expect(remainingAtLoom([one(0, 60), one(1, 60)], 2)).toMatchObject({ by: 'done', left: 0, ahead: { minutes: 0 } })
  })

  // Four in five of planted totals lie within, give or take what 2000 trials scatter (2 standard errors are 1.8 %).
  test.each([
    ['learning, one repeat a sitting', 10, 1, 6],
    ['learning, three repeats a sitting', 8, 3, 12],
    ['pace of three sittings', 3, 1, 4],
  ])('holds 80 %% of planted totals: %s', (_name, sittings, each, left) => {
    const normal = normals(20_261_128)
    const b = exponentOfRate(0.85)
    const repeatMinutes = (repeat: number) => 50 * repeat ** (sittings > 3 ? b : 0) * Math.exp(0.12 * normal())
    const trials = 2000
    let held = 0
    for (let trial = 0; trial < trials; trial += 1) {
      const points = Array.from({ length: sittings }, (_, at) => {
        const repeats = Array.from({ length: each }, (__, of) => repeatMinutes(at * each + of + 1))
        return { from: at * each, repeats: each, minutes: repeats.reduce((sum, minutes) => sum + minutes, 0) }
      })
      const woven = sittings * each
      const actual = Array.from({ length: left }, (_, at) => repeatMinutes(woven + at + 1)).reduce(
        (sum, one) => sum + one,
      )
      const { low, high } = rangeOf(remainingAtLoom(points, woven + left)?.ahead ?? guessed(0))
      if (actual >= low && actual <= high) held += 1
    }
    expect(held / trials).toBeGreaterThan(0.77)
    expect(held / trials).toBeLessThan(0.83)
  })
})

describe('addAhead(parts)', () => {
  test('adds minutes, and variances by their shares: never end to end', () => {
    const part = { minutes: 60, u: 0.3, df: 9 }
    const both = addAhead([part, { ...part, u: 0.4 }])
    expectWithin(both.u, 0.25, 1e-12)
    expect(both.minutes).toBe(120)
    const ends = rangeOf(both).high
    expect(ends).toBeLessThan(rangeOf(part).high + rangeOf({ ...part, u: 0.4 }).high)
  })

  test('of nothing is nothing', () => expect(addAhead([])).toEqual({ minutes: 0, u: 0, df: Infinity }))
})

test('rangeOf(guessed(120)) goes from half to twice as much; the mean lies above the median', () => {
  const { low, likely, high, mean } = rangeOf(guessed(120))
  expectWithin(low, 60, 1e-9)
  expectWithin(high, 240, 1e-9)
  expect(likely).toBe(120)
  expect(mean).toBeGreaterThan(likely)
})
