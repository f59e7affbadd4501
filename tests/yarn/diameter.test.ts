import { describe, expect, test } from 'vitest'
import { texOf } from '../../shared/yarn/count.ts'
import { diameterMm, texFromDiameter } from '../../shared/yarn/diameter.ts'
import { expectWithin } from '../measure/reference.ts'

describe('diameterMm(tex, fibreDensity, packing)', () => {
  // Peirce's rule for cotton, 1/(28 sqrt Ne) inch, stands on a yarn of 1.1 cm3/g and is rounded from 1/(27.93 sqrt Ne).
  test.each([
    [16, 0.22679],
    [20, 0.20284],
    [30, 0.16562],
    [36, 0.15119],
  ])('of cotton Ne %d in a yarn of 1.1 cm3/g keeps to Peirce: %d mm', (count, mm) => {
    const found = diameterMm(texOf(count, 'NeC'), 1.52, 1 / 1.1 / 1.52)
    expectWithin(found, mm, 0.003)
    expectWithin(found, 25.4 / (27.929 * Math.sqrt(count)), 2e-5)
  })

  // Not printed anywhere: worked apart from the program, from the formula and the densities of Morton and Hearle,
  // table 5.1.
  test.each([
    ['wool', 25, 1.31, 0.6, '0.20124'],
    ['silk', 20, 1.34, 0.7, '0.16477'],
  ])('of %s %d tex, %d g/cm3, packing %d', (_fibre, tex, density, packing, mm) => {
    expect(diameterMm(tex, density, packing).toFixed(5)).toBe(mm)
  })

  // GATE 2008, question 72: 30 tex cotton, 4.44e-3 sqrt(tex / density) in cm stands for a packing of 0.646.
  test('of 30 tex cotton with 1.54 g/cm3 is the printed 0.1958 mm', () => {
    expect(Math.abs(diameterMm(30, 1.54, 0.646) - 0.1958)).toBeLessThan(0.0002)
  })

  test('is 0.0356825 mm for 1 tex of 1 g/cm3, packed full', () => {
    expect(diameterMm(1, 1, 1).toFixed(7)).toBe('0.0356825')
  })

  test('doubles when the linear density grows fourfold', () => {
    expectWithin(diameterMm(100, 1.31, 0.6), 2 * diameterMm(25, 1.31, 0.6), 1e-14)
  })

  test.each([
    [0, 1.31, 0.6],
    [25, 0, 0.6],
    [25, 1.31, 0],
    [25, 1.31, 1.01],
    [25, 1.31, NaN],
    [NaN, 1.31, 0.6],
  ])('refuses (%d, %d, %d)', (tex, density, packing) => {
    expect(() => diameterMm(tex, density, packing)).toThrow(RangeError)
    if (tex === 25) expect(() => texFromDiameter(0.2, density, packing)).toThrow(RangeError)
  })
})

test('texFromDiameter is the way back', () => {
  expectWithin(texFromDiameter(diameterMm(25, 1.31, 0.6), 1.31, 0.6), 25, 1e-14)
  expect(() => texFromDiameter(0, 1.31, 0.6)).toThrow(RangeError)
})
