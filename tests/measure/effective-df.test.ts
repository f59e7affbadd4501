import { describe, expect, test } from 'vitest'
import { combinedUncertainty, effectiveDf } from '../../shared/measure/effective-df.ts'
import { studentT } from '../../shared/measure/student-t.ts'
import { expectWithin } from './reference.ts'

describe('JCGM 100:2008, G.4.1: a product with relative uncertainties 0.25 %, 0.57 %, 0.82 %', () => {
  // The words of the clause are from memory; the arithmetic is re-done exactly.
  const parts = [
    { u: 0.25, df: 9 },
    { u: 0.57, df: 4 },
    { u: 0.82, df: 14 },
  ]

  test('combinedUncertainty is the printed 1.03 %', () => {
    expect(combinedUncertainty(parts).toFixed(2)).toBe('1.03')
    expectWithin(combinedUncertainty(parts), Math.sqrt(1.0598), 1e-15)
  })

  test('effectiveDf is the printed 19.0, kept as the fraction 18.9987 and not truncated to 18', () => {
    expect(effectiveDf(parts).toFixed(1)).toBe('19.0')
    expectWithin(effectiveDf(parts), '18.9987423143', 1e-11)
  })

  test('the expanded uncertainty is the printed 2.2 %', () => {
    const U = studentT(0.95, effectiveDf(parts)) * combinedUncertainty(parts)
    expect(U.toFixed(1)).toBe('2.2')
  })
})

describe('JCGM 100:2008, H.1: the length of an end gauge', () => {
  const parts = [
    { u: 25, df: 18 },
    { u: 9.7, df: 25.6 },
    { u: 2.9, df: 50 },
    { u: 16.6, df: 2 },
  ]

  test('combinedUncertainty is the printed 32 nm', () => {
    expect(Math.round(combinedUncertainty(parts))).toBe(32)
    expectWithin(combinedUncertainty(parts), '31.67112249', 1e-9)
  })

  test('effectiveDf is 16.76, which the document truncates to 16', () => {
    expect(Math.floor(effectiveDf(parts))).toBe(16)
    expectWithin(effectiveDf(parts), '16.76455', 3e-7)
  })

  test('studentT(0.99, 16) is the printed 2.92 and U99 the printed 93 nm', () => {
    expect(studentT(0.99, 16).toFixed(2)).toBe('2.92')
    expect(Math.round(studentT(0.99, 16) * 32)).toBe(93)
  })
})

test('effectiveDf is infinite when nothing with finite degrees of freedom counts', () => {
  expect(effectiveDf([])).toBe(Infinity)
  expect(effectiveDf([{ u: 0, df: 3 }])).toBe(Infinity)
  expect(effectiveDf([{ u: 1, df: Infinity }])).toBe(Infinity)
})

test('effectiveDf keeps uncertainties whose fourth power is too small for a number', () => {
  expectWithin(
    effectiveDf([
      { u: 1e-100, df: 4 },
      { u: 1e-100, df: 4 },
    ]),
    8,
    1e-12,
  )
})

test.each([[{ u: -1, df: 3 }], [{ u: NaN, df: 3 }], [{ u: Infinity, df: 3 }], [{ u: 1, df: 0 }], [{ u: 1, df: NaN }]])(
  'effectiveDf([%o]) is refused',
  (part) => {
    expect(() => effectiveDf([part])).toThrow(RangeError)
  },
)
