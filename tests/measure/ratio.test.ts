import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { ratioOf } from '../../shared/measure/ratio.ts'
import { summariseReadings } from '../../shared/measure/reading-summary.ts'
import { expectWithin, readReference } from './reference.ts'

const { annex_H_2 } = readReference<{
  annex_H_2: {
    observations_V_I_phi: [string, string, string][]
    recomputed: { r: string[]; Z: [string, string]; Z_if_correlation_ignored: [string, string] }
  }
}>('measure/reference/gum-examples.json')

describe('JCGM 100:2008, H.2: impedance as a quotient of two correlated means', () => {
  const volts = summariseReadings({ values: annex_H_2.observations_V_I_phi.map(([v]) => Number(v)) })
  const amperes = summariseReadings({ values: annex_H_2.observations_V_I_phi.map(([, i]) => Number(i) / 1000) })
  const r = Number(annex_H_2.recomputed.r[0])

  test('summariseReadings gives the printed means 4.9990 and 19.6610 mA with u 0.0032 and 0.0095', () => {
    expect([volts.mean.toFixed(4), volts.u?.toFixed(4)]).toEqual(['4.9990', '0.0032'])
    expect([(1000 * amperes.mean).toFixed(4), (1000 * (amperes.u ?? NaN)).toFixed(4)]).toEqual(['19.6610', '0.0095'])
  })

  test('ratioOf with the correlation is the printed 254.260 with u 0.236', () => {
    const found = ratioOf(volts, amperes, r)
    expect([found.ratio.toFixed(3), found.uRatio.toFixed(3)]).toEqual(['254.260', '0.236'])
    expectWithin(found.ratio, annex_H_2.recomputed.Z[0], 1e-11)
    expectWithin(found.uRatio, annex_H_2.recomputed.Z[1], 1e-8)
  })

  test('ratioOf without it has the smaller u 0.204 of independent means', () => {
    expectWithin(ratioOf(volts, amperes).uRatio, annex_H_2.recomputed.Z_if_correlation_ignored[1], 1e-10)
  })

  test('ratioOf uses the smallest degrees of freedom once there is a correlation', () => {
    expect(ratioOf(volts, amperes, r).df).toBe(4)
    expect(ratioOf(volts, amperes).df).toBeGreaterThan(4)
  })
})

test('ratioOf with r of 1 and equal relative uncertainties is certain: one tape measured both', () => {
  const side = { mean: 13.1, parts: [{ u: 0.7, df: 9 }] }
  expect(ratioOf(side, side, 1).uRatio).toBe(0)
  expect(ratioOf(side, side, 1).k).toBeNull()
})

const side = fc
  .record({
    mean: fc.double({ min: 0.1, max: 1000, noNaN: true }),
    share: fc.double({ min: 0.001, max: 0.2, noNaN: true }),
    df: fc.oneof(fc.integer({ min: 1, max: 60 }), fc.constant(Infinity)),
  })
  .map(({ mean, share, df }) => ({ mean, parts: [{ u: mean * share, df }] }))

test('ratioOf the other way round is the reciprocal, with the same relative uncertainty, k and df', () => {
  fc.assert(
    fc.property(side, side, (a, b) => {
      const [there, back] = [ratioOf(a, b), ratioOf(b, a)]
      expectWithin(there.ratio * back.ratio, 1, 1e-12)
      expectWithin(there.uRatio / there.ratio, back.uRatio / back.ratio, 1e-9)
      expectWithin(there.k, back.k ?? NaN, 1e-9)
    }),
  )
})

test('ratioOf does not mind the unit both sides are in', () => {
  fc.assert(
    fc.property(side, side, fc.double({ min: 0.01, max: 100, noNaN: true }), (a, b, factor) => {
      const scale = (x: typeof a) => ({ mean: x.mean * factor, parts: x.parts.map((p) => ({ ...p, u: p.u * factor })) })
      expectWithin(ratioOf(scale(a), scale(b)).uRatio, ratioOf(a, b).uRatio, 1e-9)
    }),
  )
})

test.each([0, -1, NaN, Infinity])('ratioOf refuses a mean of %d on either side', (mean) => {
  const good = { mean: 13, parts: [] }
  expect(() => ratioOf({ mean, parts: [] }, good)).toThrow(/over\.mean/)
  expect(() => ratioOf(good, { mean, parts: [] })).toThrow(/under\.mean/)
})

test('ratioOf refuses a correlation beyond 1 and a quotient beyond the numbers', () => {
  const good = { mean: 13, parts: [] }
  expect(() => ratioOf(good, good, 1.01)).toThrow(/correlation/)
  expect(() => ratioOf({ mean: 1e300, parts: [] }, { mean: 1e-300, parts: [] })).toThrow(RangeError)
})
