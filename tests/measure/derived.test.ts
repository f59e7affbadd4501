import { describe, expect, test } from 'vitest'
import { quotientOf } from '../../shared/measure/derived.ts'

const exact = (value: number) => ({ value, u: 0, n: null })

describe('quotientOf(numerator, denominator, factor)', () => {
  test('of an exact count keeps the relative uncertainty and n of the length', () => {
    const derived = quotientOf(exact(21), { value: 30, u: 0.3, n: 5 }, 10)
    expect(derived.value).toBeCloseTo(7, 12)
    expect(derived.u).toBeCloseTo(0.07, 12)
    expect(derived.n).toBe(5)
  })

  test('adds relative uncertainties in quadrature and takes the smaller n', () => {
    // JCGM 100:2008, 5.1.6: 3 % and 4 % give 5 %.
    const derived = quotientOf({ value: 100, u: 3, n: 12 }, { value: 50, u: 2, n: 4 })
    expect(derived.u).toBeCloseTo(0.1, 12)
    expect(derived.n).toBe(4)
  })

  test('has no uncertainty when a side has none', () => {
    expect(quotientOf(exact(21), { value: 30, u: null, n: 1 }, 10)).toEqual({ value: 7, u: null, n: 1 })
  })

  test('of two exact values is exact', () => {
    expect(quotientOf(exact(72), exact(9))).toEqual({ value: 8, u: 0, n: null })
  })

  test.each([
    [exact(0), exact(1), 1, 'numerator'],
    [exact(1), exact(-1), 1, 'denominator'],
    [exact(1), exact(1), 0, 'factor'],
    [{ value: 1, u: -1, n: null }, exact(1), 1, 'numerator.u'],
  ])('refuses %j over %j times %d', (numerator, denominator, factor, name) => {
    expect(() => quotientOf(numerator, denominator, factor)).toThrow(name)
  })
})
