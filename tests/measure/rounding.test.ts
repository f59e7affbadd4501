import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { roundUncertainty, toDecimals, toSignificant } from '../../shared/measure/rounding.ts'
import { toConcise, toGivenDigits, toStatedValue } from '../../shared/measure/stated-value.ts'

describe('JCGM 100:2008, 7.2.6', () => {
  test.each([
    ['10.47 mOhm is rounded up', 10.47, '11'],
    ['28.05 kHz is rounded down', 28.05, '28'],
    ['27 mOhm stays', 27, '27'],
  ])('roundUncertainty: %s', (_name, u, rounded) => {
    expect(roundUncertainty(u).rounded).toBe(rounded)
  })

  test('toStatedValue: 10.05762 Ohm with 27 mOhm is 10.058 Ohm', () => {
    expect(toStatedValue({ value: 10.05762, u: 0.027, unit: 'Ω' })).toMatchObject({
      value: '10.058',
      plusMinus: '0.027',
    })
  })
})

// The uncertainties that JCGM 100:2008 prints with two digits, against their exact values.
test.each([
  ['4.4.3', 0.332915747204668, '0.33'],
  ['H.1', 31.67112249, '32'],
  ['H.2', 0.00320936130718, '0.0032'],
  ['H.2', 0.00947100839404, '0.0095'],
  ['H.2', 0.000752063827079, '0.00075'],
  ['H.3', 0.00287759783515995, '0.0029'],
  ['H.3', 0.000667938773228, '0.00067'],
  ['H.3', 0.00413859575285, '0.0041'],
  ['G.4.1', 2.15469685198, '2.2'],
  ['7.2.4 (from memory)', 0.791755, '0.79'],
])('roundUncertainty rounds as %s prints', (_clause, u, rounded) => {
  expect(roundUncertainty(u).rounded).toBe(rounded)
})

test.each([
  [0.0995, { decimals: 2, rounded: '0.10' }],
  [0.0999, { decimals: 2, rounded: '0.10' }],
  [9.94, { decimals: 1, rounded: '9.9' }],
  [123, { decimals: -1, rounded: '120' }],
  [1204, { decimals: -2, rounded: '1200' }],
  [1, { decimals: 1, rounded: '1.0' }],
])('roundUncertainty(%d) keeps two digits', (u, expected) => {
  expect(roundUncertainty(u)).toEqual(expected)
})

test('roundUncertainty never understates by more than 4 % nor overstates by more than 6 %', () => {
  fc.assert(
    fc.property(fc.double({ min: 1e-9, max: 1e9, noNaN: true }), (u) => {
      const share = Number(roundUncertainty(u).rounded) / u
      expect(share).toBeGreaterThanOrEqual(0.96 - 1e-12)
      expect(share).toBeLessThanOrEqual(1.06)
    }),
  )
})

test.each([0, -1, NaN, Infinity])('roundUncertainty(%d) is refused', (u) => {
  expect(() => roundUncertainty(u)).toThrow(RangeError)
})

test.each([
  [1.005, 2, '1.01'],
  [-1.005, 2, '-1.01'],
  [-0.001, 2, '0.00'],
  [2.5, 0, '3'],
  [1234, -2, '1200'],
  [1250, -2, '1300'],
  [0.000012345, 6, '0.000012'],
  [13, 1, '13.0'],
  [123456789012345680000, 0, '123456789012345680000'],
])('toDecimals(%d, %d) is %s', (value, decimals, text) => {
  expect(toDecimals(value, decimals)).toBe(text)
})

test('toDecimals refuses what has no plain digits', () => {
  expect(() => toDecimals(1e21, 2)).toThrow(RangeError)
  expect(() => toDecimals(NaN, 2)).toThrow(RangeError)
  expect(() => toDecimals(1, 2.5)).toThrow(RangeError)
  expect(() => toDecimals(1, 21)).toThrow(RangeError)
})

test.each([
  [20 / 13, 3, '1.54'],
  [9.99, 2, '10'],
  [1234, 2, '1200'],
  [0, 3, '0'],
  [0.00123, 2, '0.0012'],
])('toSignificant(%d, %d) is %s', (value, digits, text) => {
  expect(toSignificant(value, digits)).toBe(text)
})

test('toSignificant refuses no digits and more than a number has', () => {
  expect(() => toSignificant(1, 0)).toThrow(RangeError)
  expect(() => toSignificant(1, 16)).toThrow(RangeError)
})

describe('JCGM 100:2008, 7.2.2: 100.02147 g with a standard uncertainty of 0.35 mg', () => {
  test('toConcise is the second form, 100.02147(35)', () => {
    expect(toConcise(100.02147, 0.00035)).toBe('100.02147(35)')
  })

  test('toStatedValue is the fourth form', () => {
    expect(toStatedValue({ value: 100.02147, u: 0.00035, unit: 'g' }).text).toBe('100.02147 ± 0.00035 g')
  })

  // 7.2.4, from memory; the arithmetic is re-done.
  test('toStatedValue with k 2.26 is the expanded uncertainty 0.00079', () => {
    expect(toStatedValue({ value: 100.02147, u: 0.00035, k: 2.262157, n: 10, unit: 'g' }).text).toBe(
      '100.02147 ± 0.00079 g (k=2.26, n=10)',
    )
  })
})

test('toStatedValue gives parts and line, and leaves out what is not known', () => {
  expect(toStatedValue({ value: 13.02, u: 0.0884, k: 2.262157, n: 10, unit: 'mm' })).toEqual({
    value: '13.02',
    plusMinus: '0.20',
    unit: 'mm',
    note: 'k=2.26, n=10',
    text: '13.02 ± 0.20 mm (k=2.26, n=10)',
  })
  expect(toStatedValue({ value: 1.538, u: 0.0273 }).text).toBe('1.538 ± 0.027')
  expect(toStatedValue({ value: 13.5, unit: 'mm', n: 1 }).text).toBe('13.5 mm (n=1)')
})

test('toStatedValue without u, or exact, keeps the digits it was given and names no k', () => {
  expect(toStatedValue({ value: 13.25, u: null, k: 2, unit: 'mm' }).text).toBe('13.25 mm')
  expect(toStatedValue({ value: 21, u: 0 })).toMatchObject({ text: '21', plusMinus: null })
})

test('toStatedValue refuses a negative u, a k of 0 and an n that is no number of readings', () => {
  expect(() => toStatedValue({ value: 13, u: -1 })).toThrow(RangeError)
  expect(() => toStatedValue({ value: 13, u: 1, k: 0 })).toThrow(RangeError)
  expect(() => toStatedValue({ value: 13, u: 1, n: 0 })).toThrow(RangeError)
  expect(() => toStatedValue({ value: NaN })).toThrow(RangeError)
})

test.each([
  [13.0213, 0.352, '13.02(35)'],
  [13.0213, 0.0352, '13.021(35)'],
  [12.3, 1.25, '12.3(1.3)'],
  [1234, 120, '1230(120)'],
  [100, 25, '100(25)'],
])('toConcise(%d, %d) is %s', (value, u, text) => {
  expect(toConcise(value, u)).toBe(text)
})

test.each([
  [13.5, '13.5'],
  [13, '13'],
  [1e-7, '0.0000001'],
  [1200, '1200'],
  [-0.25, '-0.25'],
  [0, '0'],
])('toGivenDigits(%d) is %s', (value, text) => {
  expect(toGivenDigits(value)).toBe(text)
})
