import { describe, expect, test } from 'vitest'
import { deltaE2000, hexOfLab, type Lab, labOfHex, labOfLinear } from '../../shared/colour/lab.ts'
import { CIEDE2000_PAIRS } from './reference/ciede2000.ts'

describe('deltaE2000(one, other)', () => {
  test.each(CIEDE2000_PAIRS.map((row) => [...row]))('of published pair %i, in either order', (...row) => {
    const one = row.slice(1, 4) as unknown as Lab
    const other = row.slice(4, 7) as unknown as Lab
    expect(Math.abs(deltaE2000(one, other) - row[7]!)).toBeLessThan(1e-4)
    expect(Math.abs(deltaE2000(other, one) - row[7]!)).toBeLessThan(1e-4)
  })

  test('refuses what is not a number', () => {
    expect(() => deltaE2000([Number.NaN, 0, 0], [0, 0, 0])).toThrow(RangeError)
  })
})

describe('labOfHex(hex)', () => {
  // sRGB primaries under D65, from memory of common tables (Lindbloom): red 53.24 80.09 67.20, green 87.73 -86.18 83.18.
  test.each([
    ['#ffffff', 100, 0, 0],
    ['#000000', 0, 0, 0],
    ['#ff0000', 53.24, 80.09, 67.2],
    ['#00ff00', 87.73, -86.18, 83.18],
  ])('of %s', (hex, l, a, b) => {
    const lab = labOfHex(hex)
    for (const [index, value] of [l, a, b].entries()) expect(Math.abs(lab[index]! - value)).toBeLessThan(0.02)
  })

  test('refuses anything but six digits', () => expect(() => labOfHex('red')).toThrow(RangeError))
})

test('hexOfLab(lab) gives back the colour that was read', () => {
  for (const hex of ['#9c3b2e', '#e9dfc8', '#000000', '#ffffff', '#2f4a6b']) expect(hexOfLab(labOfHex(hex))).toBe(hex)
})

test('labOfLinear(red, green, blue) takes light: a fifth of white is the lightness of #7c7c7c', () => {
  expect(labOfLinear(0.2016, 0.2016, 0.2016)[0]).toBeCloseTo(labOfHex('#7c7c7c')[0], 1)
  expect(() => labOfLinear(Number.POSITIVE_INFINITY, 0, 0)).toThrow(RangeError)
})
