import { describe, expect, test } from 'vitest'
import { figureLine, figureOf } from '../../server/claim/figure.ts'
import type { ClaimForm } from '../../server/claim/form.ts'
import { findFeature } from '../../shared/measure/feature.ts'
import { makeClaim, makeOriginal } from '../support/make.ts'
import { migratedDb } from '../support/start.ts'

function made(claim: Partial<ClaimForm>) {
  const db = migratedDb()
  const found = makeClaim(db, { originalId: makeOriginal(db) }, claim)
  const feature = findFeature(found.feature)
  if (!feature) throw new Error(`no feature ${found.feature}`)
  return [found, feature] as const
}

describe('figureOf(claim, feature)', () => {
  test.each<[string, Partial<ClaimForm>, string[]]>([
    ['13.0 mm', { value: '13.0', n: 10, u: '0.20' }, ['n = 10', 'u = 0.20 mm']],
    ['1.30 cm', { value: '1.30', unit: 'cm' }, []],
    ['12 to 14.0 mm', { kind: 'range', low: '12', high: '14.0' }, []],
    ['32', { feature: 'tablets', value: '32', unit: 'count', u: '0' }, ['exact']],
    ['32', { feature: 'tablets', value: '32', unit: 'count', u: '0.5' }, ['u = 0.5']],
    ['13.0 mm', { value: '13.0', u: '0' }, ['u = 0 mm']],
    ['at least 21', { feature: 'tablets', kind: 'range', low: '21', unit: 'count' }, []],
    ['at most 15 mm', { kind: 'range', high: '15' }, []],
    ['25°', { feature: 'warpTwistAngle', value: '25', unit: 'deg' }, []],
    ['20° to 30°', { feature: 'warpTwistAngle', kind: 'range', low: '20', high: '30', unit: 'deg' }, []],
    ['8.0 per cm', { feature: 'picksPerCm', value: '8.0', unit: 'perCm' }, []],
    ['not preserved', { kind: 'blank', blank: 'notPreserved', unit: '' }, []],
    ['a thumb wide', { kind: 'text', words: 'a thumb wide', unit: '' }, []],
  ])('shows %s with every digit that was typed', (main, claim, details) => {
    expect(figureOf(...made(claim))).toMatchObject({ main, details })
  })

  // s of 12 and 14 is sqrt 2, u(A) is 1; a step of 1 mm has u(B) 1 / sqrt 12 (JCGM 100:2008, 4.2 and F.2.2.1).
  test('shows mean, n, s and u of readings with types A and B named', () => {
    expect(figureOf(...made({ kind: 'readings', readings: '12 14', resolution: '1' }))).toEqual({
      main: '13.0 mm',
      details: ['mean', 'n = 2', 's = 1.4 mm', 'u = 1.0 mm'],
      parts: ['type A, from the scatter: 1.0 mm', 'type B, from the resolution: 0.29 mm'],
      look: 'number',
    })
  })

  test('says of a count that came out alike each time that it is exact', () => {
    const { main, details } = figureOf(
      ...made({ feature: 'tablets', kind: 'readings', readings: '32 32', unit: 'count' }),
    )
    expect([main, ...details]).toEqual(['32', 'mean', 'n = 2', 's = 0', 'exact'])
  })

  test('says that one reading without a resolution has no uncertainty', () => {
    const { main, details } = figureOf(...made({ kind: 'readings', readings: '13.5' }))
    expect([main, details.at(-1)]).toEqual(['13.5 mm', 'no uncertainty: one reading, and no resolution of the ruler'])
  })
})

describe('figureLine(claim, feature)', () => {
  test('gives value, n and u on one line', () => {
    expect(figureLine(...made({ value: '13.0', n: 10, u: '0.2' }))).toBe('13.0 mm (n = 10, u = 0.2 mm)')
    expect(figureLine(...made({ kind: 'readings', readings: '12 14', resolution: '1' }))).toBe(
      '13.0 mm (n = 2, u = 1.0 mm)',
    )
    const tablets = { feature: 'tablets', value: '32', unit: 'count', u: '0' } as const
    expect(figureLine(...made(tablets))).toBe('32 (exact)')
  })
})
