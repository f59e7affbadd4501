import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { planWarp, type WarpWants, warpLengthMm, windingTurnOfArms } from '../../shared/yarn/warp-plan.ts'
import { weftLengthM } from '../../shared/yarn/weft-need.ts'
import { expectWithin } from '../measure/reference.ts'

const WANTS: WarpWants = {
  wovenLengthMm: 1500,
  takeUp: { percent: 10, of: 'woven' },
  loomWasteMm: 600,
  sampleMm: 100,
  fringeMm: 50,
}

describe('warpLengthMm(wants)', () => {
  test('takes up the woven length and the sample, and adds waste and fringe after it', () => {
    expectWithin(warpLengthMm(WANTS), 1600 * 1.1 + 650, 1e-14)
    expectWithin(warpLengthMm({ ...WANTS, takeUp: { percent: 10, of: 'warp' } }), 1600 / 0.9 + 650, 1e-14)
  })

  test('5 yd: 31 in of waste, 4 towels of 34 in, 13 in of take-up (a weaving magazine, worked example)', () => {
    const percent = (100 * 13) / 136
    expectWithin(
      warpLengthMm({ wovenLengthMm: 136, takeUp: { percent, of: 'woven' }, loomWasteMm: 31, sampleMm: 0, fringeMm: 0 }),
      180,
      1e-14,
    )
  })

  test('names the length that is out of range', () => {
    expect(() => warpLengthMm({ ...WANTS, wovenLengthMm: 0 })).toThrow('wovenLengthMm must be more than zero')
    expect(() => warpLengthMm({ ...WANTS, loomWasteMm: -1 })).toThrow('loomWasteMm must be zero or more')
  })
})

describe('planWarp(holes, wants, texOfColour)', () => {
  const exactly = (mm: number): WarpWants => ({
    wovenLengthMm: mm,
    takeUp: { percent: 0, of: 'woven' },
    loomWasteMm: 0,
    sampleMm: 0,
    fringeMm: 0,
  })

  test('84 ends of 2.5 m are 210 m (common practice, no source)', () => {
    const holes = Array.from({ length: 21 }, () => ['m', 'm', 'm', 'm'])
    const plan = planWarp(holes, exactly(2500), { m: 100 })
    expect(plan).toMatchObject({ ends: 84, totalLengthM: 210, warpLengthMm: 2500 })
    expect(plan.perColour).toEqual({ m: { ends: 84, lengthM: 210, massG: 21 } })
  })

  test('counts no thread for an empty hole, and no mass for a colour whose yarn is not known', () => {
    const plan = planWarp([['m', null, 'w', null]], exactly(1000), { m: 50 })
    expect(plan.ends).toBe(2)
    expect(plan.perColour).toEqual({ m: { ends: 1, lengthM: 1, massG: 0.05 }, w: { ends: 1, lengthM: 1, massG: null } })
    expect(plan.windingTurns).toBeNull()
  })

  test('528 ends of 4 yd at 3360 yd/lb are 2112 yd and 0.6286 lb (a weaver’s page, worked example)', () => {
    const holes = Array.from({ length: 132 }, () => ['c', 'c', 'c', 'c'])
    const plan = planWarp(holes, exactly(4 * 914.4), { c: 453_592.37 / (3360 * 0.9144) })
    expectWithin(plan.totalLengthM / 0.9144, 2112, 1e-12)
    expect((plan.perColour['c']!.massG! / 453.59237).toFixed(4)).toBe('0.6286')
  })

  test('says metres by colour that add up to ends times warp length, for any threading', () => {
    const hole = fc.constantFrom('a', 'b', '7', null)
    const tablets = fc.array(fc.tuple(hole, hole, hole, hole), { minLength: 1, maxLength: 60 })
    fc.assert(
      fc.property(
        tablets,
        fc.integer({ min: 1, max: 20_000 }),
        fc.integer({ min: 0, max: 90 }),
        (holes, woven, percent) => {
          const plan = planWarp(holes, { ...WANTS, wovenLengthMm: woven, takeUp: { percent, of: 'warp' } }, { a: 30 })
          const needs = Object.values(plan.perColour)
          const metres = needs.reduce((sum, one) => sum + one.lengthM, 0)
          const wanted = (plan.ends * plan.warpLengthMm) / 1000
          expect(needs.reduce((sum, one) => sum + one.ends, 0)).toBe(plan.ends)
          expect(Math.abs(metres - wanted)).toBeLessThan(1e-9 * (1 + wanted))
        },
      ),
    )
  })

  test('turns of the winder are those of one end: 2.5 m on a winder of 1 m', () => {
    expect(planWarp([['m', 'm', 'm', 'm']], { ...exactly(2500), windingTurnMm: 1000 }, {}).windingTurns).toBe(2.5)
  })
})

test('windingTurnOfArms(arms, spacingMm): four arms a little over 25 cm apart give about a metre a turn (common practice, no source)', () => {
  expect(windingTurnOfArms(4, 252)).toBe(1008)
  expect(() => windingTurnOfArms(1, 250)).toThrow('arms must be a whole number of at least 2')
})

test('weftLengthM(need) goes across once a pick, and on to the next pick by the edge', () => {
  expect(weftLengthM({ picks: 1000, widthMm: 20, pickMm: 1, passes: 1, allowancePercent: 0 })).toBe(21)
  expect(weftLengthM({ picks: 1000, widthMm: 20, pickMm: 1, passes: 2, allowancePercent: 10 })).toBeCloseTo(46.2, 12)
  expect(() => weftLengthM({ picks: 1.5, widthMm: 20, pickMm: 1, passes: 1, allowancePercent: 0 })).toThrow(
    'picks must be a whole number',
  )
})
