import fc from 'fast-check'
import { expect, test } from 'vitest'
import { BASE_UNITS, convertUnit, UNITS, unitsOf, type Unit } from '../../shared/measure/unit.ts'
import { expectWithin } from './reference.ts'

test.each<[number, Unit, Unit, number]>([
  [1, 'in', 'mm', 25.4],
  [1, 'in', 'cm', 2.54],
  [13, 'mm', 'cm', 1.3],
  [1.2, 'm', 'mm', 1200],
  [80, 'per10Cm', 'perCm', 8],
  [8, 'perCm', 'per10Cm', 80],
  [25.4, 'perIn', 'perCm', 10],
  [13.1, 'mm', 'mm', 13.1],
])('convertUnit(%d, %s, %s) is %d', (value, from, to, expected) => {
  expectWithin(convertUnit(value, from, to), expected, 1e-15)
})

// 29 x 2.54; a page on the find prints 63 per inch for it, which is a slip.
test('convertUnit of 29 per cm is 73.66 per inch', () => {
  expectWithin(convertUnit(29, 'perCm', 'perIn'), 73.66, 1e-12)
})

test('convertUnit refuses to turn one kind into another, and what is no number', () => {
  expect(() => convertUnit(1, 'mm', 'deg')).toThrow(RangeError)
  expect(() => convertUnit(NaN, 'mm', 'cm')).toThrow(RangeError)
})

test('convertUnit there and back is the same value', () => {
  const kinds = Object.keys(BASE_UNITS) as (keyof typeof BASE_UNITS)[]
  const pair = fc
    .constantFrom(...kinds)
    .chain((kind) => fc.tuple(fc.constantFrom(...unitsOf(kind)), fc.constantFrom(...unitsOf(kind))))
  fc.assert(
    fc.property(pair, fc.double({ min: 0.001, max: 1e6, noNaN: true }), ([from, to], value) => {
      expectWithin(convertUnit(convertUnit(value, from, to), to, from), value, 1e-14)
    }),
  )
})

test('unitsOf(kind) starts with the base unit and shares out every unit', () => {
  const kinds = Object.keys(BASE_UNITS) as (keyof typeof BASE_UNITS)[]
  for (const kind of kinds) expect(unitsOf(kind)[0]).toBe(BASE_UNITS[kind])
  expect(kinds.flatMap((kind) => unitsOf(kind)).sort()).toEqual(Object.keys(UNITS).sort())
})
