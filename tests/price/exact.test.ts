import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { allocate, mulDiv, readExact } from '../../shared/price/exact.ts'

const most = 10n ** 15n
const amount = fc.bigInt({ min: 0n, max: most })
const share = fc.bigInt({ min: 0n, max: 10n ** 9n })

describe('mulDiv(a, b, c)', () => {
  test.each([
    [2850n, 735n, 100n, 20948n, '28.50 x 7.35 = 209.475, a half to the even 209.48'],
    [5n, 1n, 2n, 2n, '2.5'],
    [7n, 1n, 2n, 4n, '3.5'],
    [-5n, 1n, 2n, -2n, '-2.5'],
    [5n, 1n, -2n, -2n, '2.5 the other way about'],
    [10n, 1n, 3n, 3n, '3.33'],
    [20n, 1n, 3n, 7n, '6.67'],
    [0n, 9n, 7n, 0n, 'nothing'],
  ])('(%d, %d, %d) is %d: %s', (a, b, c, expected) => expect(mulDiv(a, b, c)).toBe(expected))

  test('is never more than half of one away, and at a half it is even', () => {
    fc.assert(
      fc.property(fc.bigInt({ min: -most, max: most }), share, fc.bigInt({ min: 1n, max: 10n ** 9n }), (a, b, c) => {
        const rounded = mulDiv(a, b, c)
        const off = 2n * (a * b - rounded * c)
        const size = off < 0n ? -off : off
        return size < c || (size === c && rounded % 2n === 0n)
      }),
      { numRuns: 300 },
    )
  })

  test('by nothing throws', () => expect(() => mulDiv(1n, 1n, 0n)).toThrow('c must not be zero'))
})

describe('allocate(total, weights)', () => {
  test.each([
    [10000n, [1n, 1n, 1n], [3334n, 3333n, 3333n]],
    [5n, [0n, 2n], [0n, 5n]],
    [1n, [1n, 1n], [1n, 0n]],
    [7n, [3n, 2n, 1n], [4n, 2n, 1n]],
    [0n, [1n, 9n], [0n, 0n]],
  ])('(%s, %s) is %s', (total, weights, parts) => expect(allocate(total, weights)).toEqual(parts))

  test('adds up to the whole for any weights, each part within one of its share', () => {
    const weights = fc.array(share, { minLength: 1, maxLength: 12 }).filter((all) => all.some((one) => one > 0n))
    fc.assert(
      fc.property(amount, weights, (total, all) => {
        const parts = allocate(total, all)
        const sum = all.reduce((one, other) => one + other, 0n)
        const isNear = parts.every((part, at) => {
          const off = part * sum - total * (all[at] ?? 0n)
          return off < sum && off > -sum
        })
        return isNear && parts.reduce((one, other) => one + other, 0n) === total
      }),
      { numRuns: 300 },
    )
  })

  test('refuses weights that come to nothing, and less than nothing', () => {
    expect(() => allocate(1n, [0n])).toThrow('weights must not all be zero')
    expect(() => allocate(1n, [2n, -1n])).toThrow('weights must be zero or more')
    expect(() => allocate(-1n, [1n])).toThrow('total')
  })
})

test.each([
  ['7,35', { n: 735n, d: 100n }],
  ['7.35', { n: 735n, d: 100n }],
  ['12', { n: 12n, d: 1n }],
  ['0.1234567', undefined],
  ['1e3', undefined],
  ['-1', undefined],
  ['', undefined],
])('readExact(%j) is %s', (text, expected) => expect(readExact(text)).toEqual(expected))
