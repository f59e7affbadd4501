import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { meanOf, standardDeviationOf, standardUncertaintyOfMean, sumOf } from '../../shared/measure/univariate.ts'
import { expectWithin, readReference } from './reference.ts'

interface NistSet {
  readonly y: readonly string[]
  readonly certified: { readonly mean: string; readonly sampleStandardDeviation: string }
}
const NIST = readReference<Record<string, NistSet>>('measure/reference/nist-univariate.json')
const GUM = readReference<{
  clause_4_4_3: { t: string[]; recomputed: { mean: string; s: string; u_mean: string } }
}>('measure/reference/gum-examples.json')

// The decimals of NumAcc3 and NumAcc4 (1000000.2 and its like) are rounded when they are read into a double, which
// leaves about 9.5 and 8.3 digits of a scatter of 0.1 for any method whatever; everywhere else 13 are there to be had.
const SD_TOLERANCE: Readonly<Record<string, number>> = { NumAcc3: 1e-9, NumAcc4: 1e-8 }

describe('NIST StRD, univariate summary statistics, certified values', () => {
  test('are seven sets, the whole of each', () => {
    expect(Object.values(NIST).map((set) => set.y.length)).toEqual([3, 1001, 1001, 1001, 5000, 218, 100])
  })

  test.each(Object.keys(NIST))('meanOf and standardDeviationOf reach the certified digits of %s', (name) => {
    const set = NIST[name]
    const values = set?.y.map(Number) ?? []
    expectWithin(meanOf(values), set?.certified.mean ?? NaN, 1e-14)
    expectWithin(
      standardDeviationOf(values),
      set?.certified.sampleStandardDeviation ?? NaN,
      SD_TOLERANCE[name] ?? 1e-13,
    )
  })
})

describe('JCGM 100:2008, 4.4.3, table 1: twenty temperatures', () => {
  const values = GUM.clause_4_4_3.t.map(Number)

  test('meanOf, standardDeviationOf, standardUncertaintyOfMean give the printed 100.14, 1.49 and 0.33', () => {
    // The document prints 100.14 for 100.145.
    expect(Math.abs(meanOf(values) - 100.14)).toBeLessThan(0.0051)
    expect(standardDeviationOf(values)?.toFixed(2)).toBe('1.49')
    expect(standardUncertaintyOfMean(values)?.toFixed(2)).toBe('0.33')
  })

  test('and agree with exact arithmetic on the same data', () => {
    const { mean, s, u_mean } = GUM.clause_4_4_3.recomputed
    expectWithin(meanOf(values), mean, 1e-15)
    expectWithin(standardDeviationOf(values), s, 1e-14)
    expectWithin(standardUncertaintyOfMean(values), u_mean, 1e-14)
  })
})

test('sumOf(values) keeps what plain addition drops', () => {
  expect(sumOf([1, 1e100, 1, -1e100])).toBe(2)
  expect(sumOf([])).toBe(0)
})

test('meanOf([]) and standardDeviationOf([]) refuse with a RangeError', () => {
  expect(() => meanOf([])).toThrow(RangeError)
  expect(() => standardDeviationOf([])).toThrow(RangeError)
})

test('standardDeviationOf and standardUncertaintyOfMean of one value are undefined, not 0 and not NaN', () => {
  expect(standardDeviationOf([13])).toBeUndefined()
  expect(standardUncertaintyOfMean([13])).toBeUndefined()
})

test.each([NaN, Infinity, -Infinity])('meanOf names the value that is %s', (bad) => {
  expect(() => meanOf([13, bad])).toThrow(/values\[1\] must be a finite number/)
})

test('meanOf refuses a sum that is too large rather than answer Infinity', () => {
  expect(() => meanOf([1e308, 1e308])).toThrow(RangeError)
})

const readings = fc.array(
  fc.integer({ min: 1, max: 100_000 }).map((tenths) => tenths / 10),
  { minLength: 2, maxLength: 30 },
)

test('standardDeviationOf grows with the unit and does not mind where zero is', () => {
  fc.assert(
    fc.property(readings, fc.integer({ min: 1, max: 50 }), (values, factor) => {
      const s = standardDeviationOf(values) ?? NaN
      const scaled = standardDeviationOf(values.map((value) => value * factor)) ?? NaN
      const moved = standardDeviationOf(values.map((value) => value + 4096)) ?? NaN
      expect(Math.abs(scaled - factor * s)).toBeLessThanOrEqual(1e-9 * factor * (1 + s))
      expect(Math.abs(moved - s)).toBeLessThanOrEqual(1e-9 * (1 + s))
    }),
  )
})

test('meanOf lies between the smallest and the largest reading', () => {
  fc.assert(
    fc.property(readings, (values) => {
      expect(meanOf(values)).toBeGreaterThanOrEqual(Math.min(...values))
      expect(meanOf(values)).toBeLessThanOrEqual(Math.max(...values))
    }),
  )
})
