import { describe, expect, test } from 'vitest'
import { contrastRatio, relativeLuminance } from '../../shared/colour/contrast.ts'
import { fromLinear, readHex, toHex, toLinear } from '../../shared/colour/hex.ts'
import { darken, fromOklab, lighten, toOklab } from '../../shared/colour/oklab.ts'

describe('readHex(hex)', () => {
  test('reads six digits in either case', () => expect(readHex('#FF0033')).toEqual([1, 0, 0.2]))

  test.each(['#f80', 'red', '#12345', '#1234567', '#12345g', '#123456"', '', ' #123456', '#123456\n'])(
    'refuses %j',
    (hex) => expect(() => readHex(hex)).toThrow(RangeError),
  )
})

describe('toHex(rgb)', () => {
  test('gives back what was read', () => {
    for (const hex of ['#000000', '#9c3b2e', '#e9dfc8', '#ffffff']) expect(toHex(readHex(hex))).toBe(hex)
  })

  test('brings what is out of range to the nearer end, and refuses NaN', () => {
    expect(toHex([1.4, 0.5, -0.2])).toBe('#ff8000')
    expect(() => toHex([0, Number.NaN, 0])).toThrow(RangeError)
  })
})

test('fromLinear(toLinear(value)) comes back to the value on both branches of the curve', () => {
  for (const value of [0, 0.02, 0.0404, 0.0405, 0.5, 1]) expect(fromLinear(toLinear(value))).toBeCloseTo(value, 6)
})

describe('toOklab(hex)', () => {
  // Red, green and blue of sRGB: CSS Color Module Level 4 gives oklab(0.62796 0.22486 0.12585) for red,
  // oklab(0.51975 -0.1403 0.10768) for #008000; written from memory.
  test.each([
    ['#ff0000', 0.62796, 0.22486, 0.12585],
    ['#008000', 0.51975, -0.1403, 0.10768],
  ])('of %s', (hex, l, a, b) => {
    const lab = toOklab(hex)
    expect(lab[0]).toBeCloseTo(l, 4)
    expect(lab[1]).toBeCloseTo(a, 4)
    expect(lab[2]).toBeCloseTo(b, 4)
  })

  test('is undone by fromOklab', () => {
    for (const hex of ['#000000', '#9c3b2e', '#2f4a6b', '#c9a227', '#ffffff']) expect(fromOklab(toOklab(hex))).toBe(hex)
  })
})

describe('lighten(hex, share) and darken(hex, share)', () => {
  test('0 leaves the colour, 1 gives white or black', () => {
    expect([lighten('#9c3b2e', 0), darken('#9c3b2e', 0)]).toEqual(['#9c3b2e', '#9c3b2e'])
    expect([lighten('#9c3b2e', 1), darken('#9c3b2e', 1)]).toEqual(['#ffffff', '#000000'])
  })

  test('move the lightness by the share asked for', () => {
    const before = toOklab('#9c3b2e')[0]
    expect(toOklab(darken('#9c3b2e', 0.25))[0]).toBeCloseTo(before * 0.75, 2)
    expect(toOklab(lighten('#9c3b2e', 0.25))[0]).toBeCloseTo(before + (1 - before) * 0.25, 2)
  })

  test('refuse a share outside 0 to 1', () => {
    expect(() => lighten('#9c3b2e', 1.01)).toThrow('share must be from 0 to 1, not 1.01')
    expect(() => darken('#9c3b2e', Number.NaN)).toThrow(RangeError)
  })
})

describe('contrastRatio(one, other)', () => {
  test('is 21 for black and white and 1 for a colour and itself, WCAG 2.2', () => {
    expect(contrastRatio('#ffffff', '#000000')).toBeCloseTo(21, 10)
    expect(contrastRatio('#9c3b2e', '#9c3b2e')).toBe(1)
  })

  // #767676 on white is widely given as the lightest grey that keeps 4.5 : 1; from memory.
  test('puts #767676 on white just above 4.5', () => {
    expect(contrastRatio('#767676', '#ffffff')).toBeGreaterThan(4.5)
    expect(contrastRatio('#777777', '#ffffff')).toBeLessThan(4.5)
  })
})

test('relativeLuminance(hex) weighs green most', () => {
  expect(relativeLuminance('#00ff00')).toBeCloseTo(0.7152, 10)
})
