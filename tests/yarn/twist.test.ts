import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { texOf } from '../../shared/yarn/count.ts'
import {
  contractedTex,
  contractionFactor,
  contractionOf,
  turnsPerMForFactor,
  turnsPerMOf,
  twistAngle,
  twistFactor,
  twistMultiplier,
  twistRetraction,
} from '../../shared/yarn/twist.ts'
import { expectWithin } from '../measure/reference.ts'

describe('twistAngle(diameterMm, turnsPerM)', () => {
  // Worked from tan a = pi d T, which GATE Textile 2005, question 71, states.
  test.each([
    [0.2, 600, 20.656],
    [0.5, 300, 25.232],
    [0.25, 1000, 38.146],
  ])('%d mm with %d turns a metre lies at %d degrees', (diameter, turns, angle) => {
    expect(twistAngle(diameter, turns).toFixed(3)).toBe(angle.toFixed(3))
  })

  test('is undone by turnsPerMOf(diameterMm, angle)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.05, max: 3, noNaN: true }),
        fc.double({ min: 0, max: 2000, noNaN: true }),
        (d, t) => {
          expect(Math.abs(turnsPerMOf(d, twistAngle(d, t)) - t)).toBeLessThan(1e-8 * (1 + t))
        },
      ),
    )
  })

  test('refuses a diameter of zero, by name', () => {
    expect(() => twistAngle(0, 600)).toThrow('diameterMm must be more than zero, not 0')
  })
})

describe('turnsPerMOf(diameterMm, angle)', () => {
  test.each([
    [0.3, 45, '1061.03'],
    [0.3, 30, '612.59'],
    [0.5, 40, '534.19'],
  ])('%d mm at %d degrees takes %s turns a metre', (diameter, angle, turns) => {
    expect(turnsPerMOf(diameter, angle).toFixed(2)).toBe(turns)
  })

  test('refuses an angle of 90 degrees', () => {
    expect(() => turnsPerMOf(0.3, 90)).toThrow('angle must be below 90 degrees')
  })
})

describe('twistFactor(turnsPerM, tex)', () => {
  test('GATE Textile 2014, question 19: 25 tex at a factor of 30 has 6 turns a cm', () => {
    expect(turnsPerMForFactor(30, 25)).toBe(600)
    expect(twistFactor(600, 25)).toBe(30)
  })

  test('GATE Textile 2006, question 31: a factor of 38.28 at 29.5 tex is 7.049 turns a cm, and at Ne 30 3.27 times the root', () => {
    const turns = turnsPerMForFactor(38.28, 29.5)
    expect((turns / 100).toFixed(3)).toBe('7.048') // printed 7.049; the exact value is 7.04792
    expectWithin(0.0254 * turns, 17.90171, 1e-6)
    expectWithin(twistMultiplier(turns, 30), 3.26839, 1e-5)
  })

  test('is 9.567344 times the multiplier of cotton counts, for every yarn', () => {
    for (const count of [8, 30, 80]) {
      expectWithin(twistFactor(700, texOf(count, 'NeC')) / twistMultiplier(700, count), 9.567344, 1e-7)
    }
  })
})

test('twistMultiplier(turnsPerM, cottonCount) of Ne 36 at 15 turns an inch is 2.5: answer key of GATE Textile', () => {
  expectWithin(twistMultiplier(15 / 0.0254, 36), 2.5, 1e-12)
})

describe('twistRetraction(angle)', () => {
  // tan²(a/2) and (1 + sec a)/2, worked; the formulas are from memory of Hearle, Grosberg and Backer, 1969.
  test.each([
    [5, '0.00191', '1.00191'],
    [15, '0.01733', '1.01764'],
    [25, '0.04915', '1.05169'],
    [30, '0.07180', '1.07735'],
    [35, '0.09941', '1.11039'],
    [40, '0.13247', '1.15270'],
    [45, '0.17157', '1.20711'],
  ])('at %d degrees is %s, and the contraction factor %s', (angle, retraction, factor) => {
    expect(twistRetraction(angle).toFixed(5)).toBe(retraction)
    expect(contractionFactor(twistRetraction(angle)).toFixed(5)).toBe(factor)
  })
})

describe('contractionOf(nominalTex, resultantTex)', () => {
  test('34 tex x 2 that measures 69.3 tex lost 1.88 %: ISO 1139:1973, from memory', () => {
    expect((100 * contractionOf(68, 69.3)).toFixed(2)).toBe('1.88')
  })

  test('ASTM D1244: 24 Ne, five plied and three cabled, is 1.6 before and 1.4 after: 12.5 % lost', () => {
    expectWithin(contractionOf(texOf(24 / 15, 'NeC'), texOf(1.4, 'NeC')), 0.125, 1e-12)
  })

  test('is undone by contractedTex(tex, contraction)', () => {
    expectWithin(contractedTex(68, contractionOf(68, 69.3)), 69.3, 1e-14)
  })

  test('refuses a plied yarn finer than its singles', () => {
    expect(() => contractionOf(68, 60)).toThrow('resultantTex must be at least the 68 tex of the singles, not 60')
  })
})

test('contractionFactor(retraction) of 1.06: 5 t of 50 tex are 106,000 km untwisted: GATE Textile 2014, question 37', () => {
  expectWithin((5e6 / 50) * contractionFactor(1 - 1 / 1.06), 106_000, 1e-12)
})
