import fc from 'fast-check'
import { expect, test } from 'vitest'
import { diameterMm } from '../../shared/yarn/diameter.ts'
import { predictedTabletsPerCm, tabletsPerCm, texForWidth } from '../../shared/yarn/scale.ts'
import { expectWithin } from '../measure/reference.ts'

test('texForWidth(100, 20, 13) is 42.25: the square of 13/20', () => {
  expectWithin(texForWidth(100, 20, 13), 42.25, 1e-14)
})

const positive = fc.double({ min: 0.1, max: 500, noNaN: true })

test('texForWidth changes the diameter of the thread in the proportion of the widths', () => {
  fc.assert(
    fc.property(positive, positive, positive, (tex, woven, wanted) => {
      const share = diameterMm(texForWidth(tex, woven, wanted), 1.31, 0.6) / diameterMm(tex, 1.31, 0.6)
      expectWithin(share, wanted / woven, 1e-12)
    }),
  )
})

test('predictedTabletsPerCm with the thread for a width is that many tablets over that width', () => {
  fc.assert(
    fc.property(fc.integer({ min: 2, max: 120 }), positive, positive, positive, (tablets, tex, woven, wanted) => {
      const thread = texForWidth(tex, woven, wanted)
      expectWithin(
        predictedTabletsPerCm(tabletsPerCm(tablets, woven), tex, thread),
        tabletsPerCm(tablets, wanted),
        1e-12,
      )
    }),
  )
})

// A linen band of the 15th century from southern Germany, described in 2016: 21 tablets, 3 cm, 7 to the cm.
test('tabletsPerCm(21, 30) is 7', () => {
  expect(tabletsPerCm(21, 30)).toBe(7)
})

test('texForWidth, tabletsPerCm, predictedTabletsPerCm refuse zero, negative and no numbers, naming the argument', () => {
  expect(() => texForWidth(0, 20, 13)).toThrow(/tex/)
  expect(() => texForWidth(100, 0, 13)).toThrow(/wovenWidthMm/)
  expect(() => texForWidth(100, 20, -13)).toThrow(/wantedWidthMm/)
  expect(() => tabletsPerCm(20.5, 30)).toThrow(/tablets/)
  expect(() => tabletsPerCm(21, 0)).toThrow(/widthMm/)
  expect(() => predictedTabletsPerCm(0, 100, 50)).toThrow(/presentPerCm/)
  expect(() => predictedTabletsPerCm(7, NaN, 50)).toThrow(/presentTex/)
  expect(() => predictedTabletsPerCm(7, 100, 0)).toThrow(/newTex/)
})
