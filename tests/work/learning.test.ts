import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { exponentOfRate, fitLearning, unitMinutes } from '../../shared/work/learning.ts'
import { expectWithin, readReference } from '../measure/reference.ts'

interface Factor {
  readonly rate: number
  readonly n: number
  readonly unit?: number
  readonly total?: number
}
const REFERENCE = readReference<{
  SEEN: { source: string; values: (Factor | { what: string })[] }[]
  exact16digits: ({ n: number } & Record<string, { unit: string; cumulative: string } | number>)[]
}>('work/reference/learning-curve.json')
const DANWOOD = readReference<{ x: string[]; y: string[]; recomputedLogLogOLS_notCertified: Record<string, string> }>(
  'work/reference/nist-danwood.json',
)

// Three published tables of unit-model factors to three decimals; the sources stand in the file.
const factors = REFERENCE.SEEN.slice(0, 3).flatMap(({ values }) => values as Factor[])

function total(rate: number, repeats: number): number {
  let minutes = 0
  for (let repeat = 1; repeat <= repeats; repeat += 1) minutes += unitMinutes(1, exponentOfRate(rate), repeat)
  return minutes
}

describe('unitMinutes(1, exponentOfRate(rate), n) prints as published', () => {
  test('in 25 rows', () => {
    expect(factors).toHaveLength(25)
  })

  test.each(factors)('$rate % at repeat $n: unit $unit, total $total', ({ rate, n, unit, total: printed }) => {
    if (unit !== undefined) expect(Math.abs(unitMinutes(1, exponentOfRate(rate / 100), n) - unit)).toBeLessThan(0.00051)
    if (printed !== undefined) expect(Math.abs(total(rate / 100, n) - printed)).toBeLessThan(0.00051)
  })

  // Manual of the CRAN package learningCurve: first unit 100 h, 125th unit.
  test.each([
    [0.8, 21.13225],
    [0.85, 32.23647],
    [0.9, 48.00243],
    [0.95, 69.9564],
  ])('rate %d: the 125th unit of 100 h', (rate, hours) => {
    expect(Math.abs(unitMinutes(100, exponentOfRate(rate), 125) - hours)).toBeLessThan(0.0000051)
  })

  test('rate 0.85: 125 units of 100 h take 5201.085 h together', () => {
    expect((100 * total(0.85, 125)).toFixed(3)).toBe('5201.085')
  })

  test('to 16 digits at twenty repeat numbers and five rates', () => {
    for (const row of REFERENCE.exact16digits)
      for (const [rate, exact] of Object.entries(row))
        if (typeof exact === 'object')
          expectWithin(unitMinutes(1, exponentOfRate(Number(rate)), row.n), exact.unit, 1e-14)
  })
})

// Stevenson, Operations Management, solved problem 7S.4: 10 min, 90 %, target 6 min: unit 29.
test('unitMinutes falls below 6 minutes at repeat 29 of a 90 % curve from 10 minutes', () => {
  const exponent = exponentOfRate(0.9)
  expect(unitMinutes(10, exponent, 28)).toBeGreaterThan(6)
  expect(unitMinutes(10, exponent, 29)).toBeLessThan(6)
})

describe('fitLearning(points)', () => {
  // NIST StRD DanWood: the straight line on logarithms is recomputed, not certified. The certified values, 0.76886 and
  // 3.86041, are those of the nonlinear fit, which this is not.
  test('is the straight line on logarithms through the DanWood data, not the nonlinear fit', () => {
    const points = DANWOOD.x.map((x, index) => ({ repeat: Number(x), minutes: Number(DANWOOD.y[index]) }))
    const exact = DANWOOD.recomputedLogLogOLS_notCertified
    const found = fitLearning(points)
    expectWithin(found?.firstRepeatMinutes, exact['A'] ?? NaN, 1e-12)
    expectWithin(found?.exponent, exact['b'] ?? NaN, 1e-13)
    expectWithin(found?.sLog, exact['s_log'] ?? NaN, 1e-11)
    // Student t 2.776445 at 4 degrees of freedom times the standard error of b.
    const reach = 2.7764451052 * Number(exact['seB'])
    expectWithin(found?.rateInterval[0], 2 ** (Number(exact['b']) - reach), 1e-10)
    expectWithin(found?.rateInterval[1], 2 ** (Number(exact['b']) + reach), 1e-10)
  })

  test('finds the curve again that the points were made from', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 1000, noNaN: true }),
        fc.double({ min: 0.6, max: 1.1, noNaN: true }),
        fc.uniqueArray(fc.integer({ min: 1, max: 200 }), { minLength: 4, maxLength: 12 }),
        (first, rate, repeats) => {
          const exponent = exponentOfRate(rate)
          const found = fitLearning(
            repeats.map((repeat) => ({ repeat, minutes: unitMinutes(first, exponent, repeat) })),
          )
          expectWithin(found?.firstRepeatMinutes, first, 1e-8)
          expectWithin(found?.ratePerDoubling, rate, 1e-8)
          expect(found?.n).toBe(repeats.length)
        },
      ),
    )
  })

  test('is null under four points', () => {
    const points = [1, 2, 3].map((repeat) => ({ repeat, minutes: 10 }))
    expect(fitLearning(points)).toBeNull()
    expect(fitLearning([...points, { repeat: 4, minutes: 10 }])).toMatchObject({
      exponent: 0,
      ratePerDoubling: 1,
      n: 4,
    })
  })

  test('is null, not NaN or Infinity, where the points carry no curve', () => {
    expect(fitLearning([1, 1, 1, 1].map((repeat) => ({ repeat, minutes: 10 })))).toBeNull()
    const near = [1, 1 + 1e-12, 1 + 2e-12, 1 + 3e-12].map((repeat, index) => ({ repeat, minutes: 10 + index }))
    expect(fitLearning(near)).toBeNull()
  })

  test('refuses what has no logarithm, naming the point', () => {
    expect(() => fitLearning([{ repeat: 0, minutes: 10 }])).toThrow(/points\[0\]\.repeat/)
    expect(() => fitLearning([{ repeat: 1, minutes: 0 }])).toThrow(/points\[0\]\.minutes/)
  })
})

test('exponentOfRate and unitMinutes refuse what is out of range', () => {
  expect(() => exponentOfRate(0)).toThrow(RangeError)
  expect(() => unitMinutes(0, -0.3, 1)).toThrow(RangeError)
  expect(() => unitMinutes(10, NaN, 1)).toThrow(RangeError)
  expect(() => unitMinutes(10, -0.3, 0)).toThrow(RangeError)
})
