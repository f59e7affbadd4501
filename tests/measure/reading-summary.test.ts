import { expect, test } from 'vitest'
import { resolutionOfDensity, summariseReadings } from '../../shared/measure/reading-summary.ts'
import { expectWithin } from './reference.ts'

test('summariseReadings of two readings without a resolution has the type A part alone', () => {
  const { n, mean, s, uA, uB, u, df } = summariseReadings({ values: [12, 14] })
  expect({ n, mean, uA, uB, u, df }).toEqual({ n: 2, mean: 13, uA: 1, uB: null, u: 1, df: 1 })
  expectWithin(s, Math.SQRT2, 1e-15)
})

// JCGM 100:2008, F.2.2.1: resolution dx, standard uncertainty dx / sqrt 12 = 0.29 dx.
test('summariseReadings takes the resolution as a full width: 0.29 of it', () => {
  const { s, uA, uB, u, df } = summariseReadings({ values: [13], resolution: 1 })
  expect({ s, uA, df }).toEqual({ s: null, uA: null, df: Infinity })
  expect(uB?.toFixed(2)).toBe('0.29')
  expect(u).toBe(uB)
})

test('summariseReadings joins both parts in quadrature and raises the degrees of freedom', () => {
  const { uA, uB, u, df } = summariseReadings({ values: [12, 13, 14], resolution: 1 })
  expectWithin(uA, 1 / Math.sqrt(3), 1e-14)
  expectWithin(u, Math.hypot(1 / Math.sqrt(3), 1 / Math.sqrt(12)), 1e-14)
  expectWithin(uB, 1 / Math.sqrt(12), 1e-14)
  // u^4 / (uA^4 / 2) with uA^2 = 1/3 and uB^2 = 1/12.
  expectWithin(df, (2 * (5 / 12) ** 2) / (1 / 3) ** 2, 1e-12)
})

test('summariseReadings of one reading without a resolution states no uncertainty, rather than 0', () => {
  expect(summariseReadings({ values: [13] })).toEqual({
    n: 1,
    mean: 13,
    s: null,
    uA: null,
    uB: null,
    u: null,
    df: null,
    parts: [],
  })
})

test('summariseReadings refuses no readings and a negative resolution', () => {
  expect(() => summariseReadings({ values: [] })).toThrow(RangeError)
  expect(() => summariseReadings({ values: [13], resolution: -1 })).toThrow(/resolution/)
})

test('resolutionOfDensity joins one pick and one millimetre as shares of 72 picks in 90 mm', () => {
  expectWithin(
    resolutionOfDensity([{ count: 72, lengthMm: 90 }], 1),
    8 * Math.sqrt((1 / 72) ** 2 + (1 / 90) ** 2),
    1e-14,
  )
})

test('resolutionOfDensity does not shrink with the number of readings, for one ruler read them all', () => {
  const reading = { count: 72, lengthMm: 90 }
  expectWithin(resolutionOfDensity([reading, reading, reading], 1), resolutionOfDensity([reading], 1), 1e-14)
})

test('resolutionOfDensity shrinks as the length grows', () => {
  expect(resolutionOfDensity([{ count: 720, lengthMm: 900 }], 1)).toBeLessThan(
    resolutionOfDensity([{ count: 72, lengthMm: 90 }], 1),
  )
})

test('resolutionOfDensity refuses a count or length of zero, a negative resolution, and no readings', () => {
  expect(() => resolutionOfDensity([{ count: 0, lengthMm: 90 }], 1)).toThrow(/counted\[0\]\.count/)
  expect(() => resolutionOfDensity([{ count: 72, lengthMm: 0 }], 1)).toThrow(/counted\[0\]\.lengthMm/)
  expect(() => resolutionOfDensity([{ count: 72, lengthMm: 90 }], -1)).toThrow(/lengthResolutionMm/)
  expect(() => resolutionOfDensity([], 1)).toThrow(RangeError)
})
