import { describe, expect, test } from 'vitest'
import type { ClaimForm } from '../../server/claim/form.ts'
import { toQuantity } from '../../server/claim/quantity.ts'
import { findFeature } from '../../shared/measure/feature.ts'
import { makeClaim, makeOriginal } from '../support/make.ts'
import { migratedDb } from '../support/start.ts'

function quantityOf(claim: Partial<ClaimForm>) {
  const db = migratedDb()
  const made = makeClaim(db, { originalId: makeOriginal(db) }, claim)
  const feature = findFeature(made.feature)
  if (!feature) throw new Error(`no feature ${made.feature}`)
  return toQuantity(made, feature)
}

describe('toQuantity(claim, feature)', () => {
  test('converts value and uncertainty to the base unit and keeps n', () => {
    expect(quantityOf({ value: '1.30', unit: 'cm', u: '0.02', n: 10 })).toEqual({
      quantity: { value: 13, u: 0.2, n: 10 },
      unit: 'mm',
      note: '',
    })
  })

  test('leaves the uncertainty out where none is stated', () => {
    expect(quantityOf({ value: '13.0' }).quantity).toEqual({ value: 13, u: undefined, n: undefined })
  })

  // JCGM 100:2008, 4.3.7 and F.2.2.1: the standard uncertainty of a rectangular distribution of full width 2 is 2 / sqrt 12.
  test('takes a range as its middle with (high - low) / sqrt 12, and says so', () => {
    const { quantity, note } = quantityOf({ kind: 'range', low: '12', high: '14' })
    expect(quantity).toEqual({ value: 13, u: expect.closeTo(0.577350269, 9) as number })
    expect(note).toContain('taken as its middle')
  })

  test('takes readings with their resolution in the base unit', () => {
    expect(
      quantityOf({ kind: 'readings', readings: '1,3 1.35; 1.3', unit: 'cm', resolution: '0.05' }).quantity,
    ).toEqual({
      readings: [13, 13.5, 13].map((value) => expect.closeTo(value, 12) as number),
      resolution: expect.closeTo(0.5, 12) as number,
    })
  })

  // 72 picks in 9 cm are 8 picks/cm (common practice, no source); the step of 1 mm and of one pick: 8 sqrt(1/72² + 1/90²).
  test('takes the step of the ruler of counts over a length as that of the density', () => {
    const claim = { feature: 'picksPerCm', kind: 'readings', unit: 'perCm', resolution: '1' } as const
    expect(quantityOf({ ...claim, readings: '72 in 9' }).quantity).toEqual({
      readings: [8],
      resolution: expect.closeTo(8 * Math.hypot(1 / 72, 1 / 90), 12) as number,
    })
  })

  test('takes a count that was seen as exact, and says so; an inferred one has no uncertainty', () => {
    const count = { feature: 'tablets', value: '21', unit: 'count' } as const
    expect(quantityOf({ ...count, basis: 'seen' })).toMatchObject({
      quantity: { value: 21, u: 0 },
      note: 'The count is taken as exact.',
    })
    expect(quantityOf({ ...count, basis: 'inferred' }).quantity).toEqual({ value: 21, u: undefined, n: undefined })
    expect(quantityOf({ ...count, basis: 'seen', u: '1' }).quantity).toMatchObject({ u: 1 })
  })

  test.each<[string, Partial<ClaimForm>, string]>([
    ['a blank', { kind: 'blank', blank: 'notPublished', unit: '' }, 'not published'],
    ['words', { kind: 'text', words: 'a thumb wide', unit: '' }, 'in words'],
    ['a range with one end', { kind: 'range', low: '12' }, 'Only one end'],
    ['a count of zero', { feature: 'tablets', value: '0', unit: 'count' }, 'zero'],
    ['readings of zero', { feature: 'tablets', kind: 'readings', readings: '0 0', unit: 'count' }, 'zero'],
    ['an angle of zero', { feature: 'warpTwistAngle', value: '0', unit: 'deg' }, 'zero'],
  ])('gives none for %s, and says why', (_what, claim, reason) => {
    const { quantity, note } = quantityOf(claim)
    expect(quantity).toBeUndefined()
    expect(note).toContain(reason)
  })
})
