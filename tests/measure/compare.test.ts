import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { compareQuantities, WIDEST_AGREEMENT } from '../../shared/measure/compare.ts'
import type { Quantity } from '../../shared/measure/quantity.ts'
import { studentT } from '../../shared/measure/student-t.ts'
import { expectWithin } from './reference.ts'

describe('compareQuantities(original, replica) states', () => {
  // Common practice, no source: 20 mm against 13 mm is a ratio of 1.54.
  test('replica over original: 20 mm against 13 mm is 1.54', () => {
    const { ratio } = compareQuantities({ value: 13, u: 0.2 }, { value: 20, u: 0.2 })
    expect(ratio.toFixed(2)).toBe('1.54')
  })

  test('mean, u and n of each side, null where nobody says', () => {
    const found = compareQuantities({ value: 13, u: 0.2 }, { readings: [19, 21], resolution: 1 })
    expect(found.original).toEqual({ mean: 13, u: 0.2, n: null })
    expect(found.replica).toMatchObject({ mean: 20, n: 2 })
    expectWithin(found.replica.u, Math.sqrt(1 + 1 / 12), 1e-14)
  })

  test('relative uncertainties in quadrature, and an interval of k of them either side', () => {
    const { ratio, uRatio, k, interval, df } = compareQuantities({ value: 10, u: 0.3 }, { value: 10, u: 0.4 })
    expect(ratio).toBe(1)
    expectWithin(uRatio, 0.05, 1e-14)
    expectWithin(k, studentT(0.95, Infinity), 1e-15)
    expect(df).toBeNull()
    expectWithin(interval?.[0], 1 - 0.05 * 1.959963984540054, 1e-14)
    expectWithin(interval?.[1], 1 + 0.05 * 1.959963984540054, 1e-14)
  })

  test('degrees of freedom over all four parts, the resolutions having infinitely many', () => {
    const [a, b] = [
      [12.6, 13, 13.4],
      [19, 20, 21, 20],
    ]
    const found = compareQuantities({ readings: a, resolution: 0.5 }, { readings: b, resolution: 1 })
    const [meanA, meanB] = [13, 20]
    // Scatter by hand: sum of squares 0.32 and 2.
    const uA2 = 0.32 / 2 / 3
    const uB2 = 2 / 3 / 4
    const relative = [uA2 / meanA ** 2, 0.25 / 12 / meanA ** 2, uB2 / meanB ** 2, 1 / 12 / meanB ** 2]
    const sum = relative.reduce((total, each) => total + each, 0)
    const df = sum ** 2 / ((relative[0] ?? NaN) ** 2 / 2 + (relative[2] ?? NaN) ** 2 / 3)
    expectWithin(found.df, df, 1e-9)
    expectWithin(found.uRatio, (meanB / meanA) * Math.sqrt(sum), 1e-12)
    expectWithin(found.k, studentT(0.95, df), 1e-9)
  })

  test('n - 1 degrees of freedom for a stated u with n, infinitely many without, or with n of 1', () => {
    const exact = { value: 10, u: 0 }
    expect(compareQuantities({ value: 10, u: 0.1, n: 10 }, exact).k?.toFixed(2)).toBe('2.26')
    expect(compareQuantities({ value: 10, u: 0.1 }, exact).k?.toFixed(2)).toBe('1.96')
    expect(compareQuantities({ value: 10, u: 0.1, n: 1 }, exact)).toMatchObject({ df: null, original: { n: 1 } })
  })

  test('a smaller uncertainty when one tape measured both', () => {
    const side = { value: 10, u: 0.4, n: 8 }
    const [apart, together] = [compareQuantities(side, side), compareQuantities(side, side, 0.8)]
    expect(together.uRatio).toBeLessThan(apart.uRatio ?? NaN)
    expect(together.df).toBe(7)
  })
})

describe('compareQuantities(original, replica) judges', () => {
  test.each<[string, Quantity, Quantity, string]>([
    ['larger when the interval lies above 1', { value: 13, u: 0.2 }, { readings: [19.8, 20.1, 20.1] }, 'larger'],
    ['smaller when it lies below 1', { readings: [19.8, 20.1, 20.1] }, { value: 13, u: 0.2 }, 'smaller'],
    ['agrees when it holds 1', { value: 13, u: 0.2 }, { readings: [12.9, 13.3, 13.1] }, 'agrees'],
    ['undecided when it holds 1 and is too wide to say so', { value: 13, u: 0.2 }, { readings: [11, 15] }, 'undecided'],
    ['larger with a wide interval too, if that leaves 1 out', { value: 10, u: 0.1 }, { value: 30, u: 3 }, 'larger'],
    ['undecided without u for the original', { value: 13 }, { readings: [19.8, 20.1, 20.1] }, 'undecided'],
    ['undecided with one reading and no resolution', { value: 13, u: 0.2 }, { readings: [20] }, 'undecided'],
    ['larger with one reading and its resolution', { value: 13, u: 0.2 }, { readings: [20], resolution: 1 }, 'larger'],
  ])('%s', (_name, original, replica, verdict) => {
    expect(compareQuantities(original, replica).verdict).toBe(verdict)
  })

  test('no uncertainty, no interval: ratio alone, and null for the rest', () => {
    const { ratio, uRatio, k, interval, df } = compareQuantities({ value: 13 }, { readings: [26] })
    expect({ ratio, uRatio, k, interval, df }).toEqual({ ratio: 2, uRatio: null, k: null, interval: null, df: null })
  })

  test('counts that are exact are equal or not, with no k', () => {
    const exact = (value: number): Quantity => ({ value, u: 0 })
    expect(compareQuantities(exact(21), exact(21))).toMatchObject({
      interval: [1, 1],
      k: null,
      uRatio: 0,
      verdict: 'agrees',
    })
    expect(compareQuantities(exact(21), exact(22))).toMatchObject({ interval: [22 / 21, 22 / 21], verdict: 'larger' })
    expect(compareQuantities(exact(21), exact(20)).verdict).toBe('smaller')
    expect(compareQuantities(exact(21), { readings: [21, 21], resolution: 0 }).verdict).toBe('agrees')
  })

  test('readings all alike without a resolution are no proof of exactness', () => {
    const found = compareQuantities({ readings: [13, 13, 13] }, { readings: [20, 20] })
    expect(found).toMatchObject({ ratio: 20 / 13, uRatio: null, interval: null, verdict: 'undecided' })
    expect(found.needs).toMatchObject({ key: 'resolution', side: 'both', readings: null })
  })

  test('readings all alike beside a side that does scatter are judged, with a caution', () => {
    const found = compareQuantities({ readings: [13, 13, 13] }, { readings: [20, 20.5, 20.2] })
    expect(found.verdict).toBe('larger')
    expect(found.notes).toEqual([
      'All readings of the original are alike and no resolution is given, so the interval is too narrow.',
    ])
    expect(compareQuantities({ readings: [13, 13.1] }, { readings: [20, 20.5] }).notes).toEqual([])
  })
})

describe('compareQuantities(original, replica).needs', () => {
  test('is null once it is decided', () => {
    expect(compareQuantities({ value: 13, u: 0.2 }, { value: 20, u: 0.2 }).needs).toBeNull()
    expect(compareQuantities({ value: 13, u: 0.2 }, { value: 13, u: 0.2 }).needs).toBeNull()
  })

  test('names the side that has no uncertainty, and what would give it one', () => {
    const both = compareQuantities({ value: 13 }, { readings: [20] }).needs
    expect(both).toMatchObject({ key: 'uncertainty', side: 'both', readings: null })
    expect(both?.sentence).toBe(
      'The original is stated without an uncertainty: give its standard uncertainty, or the readings behind it. ' +
        'The replica has one reading and no resolution: give the resolution of the ruler, or read it at other places too.',
    )
    expect(compareQuantities({ value: 13, n: 1 }, { value: 20, u: 1 }).needs?.sentence).toContain('stated without')
    expect(compareQuantities({ value: 13, u: 1 }, { value: 20 }).needs?.side).toBe('replica')
  })

  test('counts how many more readings at the present scatter would do, and they do', () => {
    const found = compareQuantities({ value: 20, u: 0 }, { readings: [18, 22] })
    expect(found.needs).toMatchObject({ key: 'moreReadings', side: 'replica', readings: 2 })
    // The same scatter of single readings, s = sqrt 8, with one and with two more: t x s / sqrt n / 20.
    expect((studentT(0.95, 2) * Math.sqrt(8 / 3)) / 20).toBeGreaterThan(WIDEST_AGREEMENT)
    expect((studentT(0.95, 3) * Math.sqrt(8 / 4)) / 20).toBeLessThan(WIDEST_AGREEMENT)
  })

  test('asks only down to the difference seen when that is the greater', () => {
    // Ratio 1.5, s = sqrt 50: three readings reach 4.30 x 0.408 = 1.76, six reach 2.57 x 0.289 = 0.74, nine 0.54, ten 0.51.
    const found = compareQuantities({ value: 10, u: 0 }, { readings: [10, 20] })
    expect(found).toMatchObject({ ratio: 1.5, verdict: 'undecided' })
    const n = 2 + (found.needs?.readings ?? NaN)
    const reach = (readings: number): number => (studentT(0.95, readings - 1) * Math.sqrt(50 / readings)) / 10
    expect(reach(n)).toBeLessThanOrEqual(0.5)
    expect(reach(n - 1)).toBeGreaterThan(0.5)
  })

  test('turns to the original when the replica is well enough known', () => {
    const found = compareQuantities({ readings: [11, 15] }, { readings: [13, 13.1, 13.2] })
    expect(found.needs).toMatchObject({ key: 'moreReadings', side: 'original' })
  })

  test('asks for both when neither alone would do', () => {
    const found = compareQuantities({ readings: [9, 15] }, { readings: [9, 15] })
    expect(found.needs?.side).toBe('both')
    expect(found.needs?.sentence).toContain('of the original and as many of the replica')
  })

  test('says so when no number of readings would do', () => {
    const found = compareQuantities({ value: 10, u: 3 }, { readings: [9, 10, 11] })
    expect(found).toMatchObject({
      verdict: 'undecided',
      needs: { key: 'smallerUncertainty', side: 'original', readings: null },
    })
    expect(found.needs?.sentence).toContain("the original's own value")
  })
})

describe('compareQuantities refuses, naming the argument,', () => {
  const good: Quantity = { value: 13, u: 0.2 }
  test.each<[Quantity, RegExp]>([
    [{ value: 0, u: 0.2 }, /original\.value must be more than zero, not 0/],
    [{ value: -13 }, /original\.value/],
    [{ value: NaN }, /original\.value must be a finite number/],
    [{ value: Infinity }, /original\.value/],
    [{ value: 13, u: -0.2 }, /original\.u/],
    [{ value: 13, u: NaN }, /original\.u/],
    [{ value: 13, u: 0.2, n: 0 }, /original\.n/],
    [{ value: 13, u: 0.2, n: 2.5 }, /original\.n/],
    [{ readings: [] }, /original\.readings must hold at least one reading/],
    [{ readings: [13, -1] }, /original\.readings\[1\]/],
    [{ readings: [13, NaN] }, /original\.readings\[1\]/],
    [{ readings: [0, 0] }, /the mean of original\.readings/],
    [{ readings: [13], resolution: -1 }, /original\.resolution/],
  ])('%o', (bad, message) => {
    expect(() => compareQuantities(bad, good)).toThrow(message)
    expect(() => compareQuantities(good, bad)).toThrow(new RegExp(message.source.replace('original', 'replica')))
    expect(() => compareQuantities(bad, good)).toThrow(RangeError)
  })
})

test('compareQuantities of any readings answers without NaN or Infinity, and larger turns to smaller the other way round', () => {
  const readings = fc.array(
    fc.integer({ min: 1, max: 4000 }).map((step) => step / 20),
    { minLength: 1, maxLength: 8 },
  )
  const quantity = fc.record({ readings, resolution: fc.constantFrom(undefined, 0, 0.5, 1) })
  fc.assert(
    fc.property(quantity, quantity, (a, b) => {
      const [there, back] = [compareQuantities(a, b), compareQuantities(b, a)]
      expectWithin(there.ratio * back.ratio, 1, 1e-12)
      expect(there.uRatio === null).toBe(back.uRatio === null)
      for (const number of [there.ratio, there.uRatio, there.k, there.df, ...(there.interval ?? [])])
        if (number !== null) expect(Number.isFinite(number)).toBe(true)
      expect(there.needs === null).toBe(there.verdict !== 'undecided')
      if (there.uRatio === 0) expect([there.verdict, back.verdict].sort()).not.toEqual(['larger', 'larger'])
    }),
  )
})
