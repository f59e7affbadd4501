import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { takeUpOf, takeUpOnBase, wovenLength, yarnLength } from '../../shared/yarn/take-up.ts'
import { expectWithin } from '../measure/reference.ts'

describe('takeUpOf(yarnMm, wovenMm, base)', () => {
  // Worked examples of teaching texts on crimp (base: the cloth) and contraction (base: the yarn).
  test.each([
    ['a strip of 20 cm, its yarn 21.2 cm', 212, 200, '6.0', '5.66'],
    ['8 m of cloth, its yarn 8.6 m', 8600, 8000, '7.5', '6.98'],
    ['1.05 m of yarn from 1 m of cloth', 1050, 1000, '5.0', '4.76'],
    ['1.08 m of yarn from 1 m of cloth', 1080, 1000, '8.0', '7.41'],
  ])('%s', (_what, yarn, woven, ofWoven, ofWarp) => {
    expect(takeUpOf(yarn, woven, 'woven').percent.toFixed(1)).toBe(ofWoven)
    expect(takeUpOf(yarn, woven, 'warp').percent.toFixed(2)).toBe(ofWarp)
  })

  test('refuses yarn that is shorter than the cloth it lay in', () => {
    expect(() => takeUpOf(90, 100, 'woven')).toThrow('yarnMm must be at least the 100 of the cloth, not 90')
  })

  test('a band of 5 ft from 7.5 ft of every thread: 50 % of the woven length, 33.3 % of the warp (a maker’s page on tablet weaving)', () => {
    expect(takeUpOf(7.5, 5, 'woven').percent).toBe(50)
    expect(takeUpOf(7.5, 5, 'warp').percent.toFixed(1)).toBe('33.3')
  })
})

describe('yarnLength(wovenMm, takeUp)', () => {
  test('160 m of cloth at a crimp of 12 % take 179.2 m of warp', () => {
    expectWithin(yarnLength(160, { percent: 12, of: 'woven' }), 179.2, 1e-14)
  })

  test('is undone by wovenLength(yarnMm, takeUp): 800 m at 8 % weave 740.7407 m', () => {
    expectWithin(wovenLength(800, { percent: 8, of: 'woven' }), 740.7407, 1e-7)
  })

  test('refuses a take-up of the whole warp, and a negative one', () => {
    expect(() => yarnLength(1, { percent: 100, of: 'warp' })).toThrow(
      'takeUp.percent of the warp must be below 100, not 100',
    )
    expect(() => yarnLength(1, { percent: -1, of: 'woven' })).toThrow('takeUp.percent must be zero or more, not -1')
  })
})

test('takeUpOnBase(takeUp, base) is T = 100 C / (100 + C) one way, C = 100 T / (100 - T) the other, and says the same length', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.01, max: 99, noNaN: true }), (percent) => {
      const onWoven = takeUpOnBase({ percent, of: 'warp' }, 'woven')
      expectWithin(onWoven.percent, (100 * percent) / (100 - percent) || 0, 1e-9)
      expectWithin(yarnLength(1000, onWoven), yarnLength(1000, { percent, of: 'warp' }), 1e-12)
      expectWithin(takeUpOnBase(onWoven, 'warp').percent, percent, 1e-9)
    }),
  )
})
