import { describe, expect, test } from 'vitest'
import type { Line } from '../../shared/measure/line.ts'
import { fitLearning, learningLine, unitMinutes } from '../../shared/work/learning.ts'
import { repeatAhead, repeatsAhead } from '../../shared/work/learning-ahead.ts'
import { expectWithin } from '../measure/reference.ts'

// Twelve repeats made up for the purpose: the curve, and what follows from it, were worked out with 40 digits by other means.
const CURVE = { first: 14.04898368883725, exponent: -0.2888204119017065, sLog: 0.0440263484628803 }

function madeUpLine(): Line {
  const x = Array.from({ length: 12 }, (_, at) => Math.log(at + 1))
  const meanX = x.reduce((sum, value) => sum + value, 0) / 12
  const sxx = x.reduce((sum, value) => sum + (value - meanX) ** 2, 0)
  const { sLog: s } = CURVE
  return {
    ...{ intercept: Math.log(CURVE.first), slope: CURVE.exponent, s, df: 10, n: 12, meanX, sxx },
    ...{ uIntercept: s * Math.sqrt(1 / 12 + meanX ** 2 / sxx), uSlope: s / Math.sqrt(sxx) },
  }
}

describe('repeatAhead(line, repeat)', () => {
  test('gives the median and the 95 % interval of the thirteenth repeat', () => {
    const ahead = repeatAhead(madeUpLine(), 13)
    expectWithin(ahead.minutes, 6.697540221847656, 1e-12)
    expectWithin(ahead.single[0], 6.011911931410024, 1e-12)
    expectWithin(ahead.single[1], 7.461360967200072, 1e-12)
  })

  test('has the band of the curve within the interval of one repeat, both narrower at 80 %', () => {
    const wide = repeatAhead(madeUpLine(), 13)
    const narrow = repeatAhead(madeUpLine(), 13, 0.8)
    expect(wide.curve[0]).toBeGreaterThan(wide.single[0])
    expect(wide.curve[1]).toBeLessThan(wide.single[1])
    expect(narrow.single[1]).toBeLessThan(wide.single[1])
  })
})

describe('repeatsAhead(line, done, upTo)', () => {
  test.each([
    [15, 18.2787, 21.1879],
    [17, 30.127, 34.385],
  ])('gives the 95 %% interval of repeats 13 to %d together', (upTo, low, high) => {
    const { single } = repeatsAhead(madeUpLine(), 12, upTo)
    expectWithin(single[0], low, 1e-5)
    expectWithin(single[1], high, 1e-5)
  })

  // The same repeats, simulated: 4 times 4 million draws of curve and scatter.
  test.each([
    [15, 18.298, 21.212],
    [17, 30.166, 34.43],
  ])('is within two parts in a thousand of a simulation of repeats 13 to %d', (upTo, low, high) => {
    const { single } = repeatsAhead(madeUpLine(), 12, upTo)
    expectWithin(single[0], low, 2e-3)
    expectWithin(single[1], high, 2e-3)
  })

  test('of one repeat is what repeatAhead says of it', () => {
    const [one, same] = [repeatsAhead(madeUpLine(), 12, 13), repeatAhead(madeUpLine(), 13)]
    expectWithin(one.minutes, same.minutes, 1e-12)
    expectWithin(one.single[0], same.single[0], 1e-12)
    expectWithin(one.curve[1], same.curve[1], 1e-12)
  })

  test('of parts of repeats adds up to the whole, and of nothing is nothing', () => {
    const minutes = (done: number, upTo: number) => repeatsAhead(madeUpLine(), done, upTo).minutes
    expectWithin(minutes(12.25, 12.75) + minutes(12.75, 14.5) + minutes(14.5, 15), minutes(12.25, 15), 1e-12)
    expect(repeatsAhead(madeUpLine(), 12.5, 12.5)).toEqual({ minutes: 0, curve: [0, 0], single: [0, 0] })
  })

  test('refuses an end before what is done', () => {
    expect(() => repeatsAhead(madeUpLine(), 3, 2)).toThrow('upTo')
    expect(() => repeatsAhead(madeUpLine(), -1, 2)).toThrow('done')
    expect(() => repeatAhead(madeUpLine(), 0)).toThrow('repeat')
  })
})

test('learningLine(points) is the line of the very curve that fitLearning gives', () => {
  const points = [1, 2, 3, 5, 9].map((repeat, at) => ({ repeat, minutes: unitMinutes(100, -0.3, repeat) + (at % 2) }))
  expect(learningLine(points)?.slope).toBe(fitLearning(points)?.exponent)
  expect(learningLine(points.slice(0, 3))).toBeNull()
})
