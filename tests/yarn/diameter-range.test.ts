import { describe, expect, test } from 'vitest'
import { diameterMm } from '../../shared/yarn/diameter.ts'
import { diameterEstimate } from '../../shared/yarn/diameter-range.ts'
import { blendDensity, FIBRES } from '../../shared/yarn/fibre.ts'
import { diameterFromWraps, texFromWraps } from '../../shared/yarn/wraps.ts'
import { expectWithin } from '../measure/reference.ts'

describe('diameterEstimate(tex, fibreDensity, packing, uTex)', () => {
  test('is 0.0356825 sqrt(tex / (density x packing)) at the middle: 25 tex of wool at 0.6 are 0.20124 mm', () => {
    const estimate = diameterEstimate(25, 1.31, { low: 0.55, high: 0.65 }, 0)
    expect(estimate.diameterMm.toFixed(5)).toBe('0.20124')
    expect([estimate.lowMm, estimate.highMm]).toEqual([diameterMm(25, 1.31, 0.65), diameterMm(25, 1.31, 0.55)])
  })

  test('has the uncertainty of a rectangular packing, halved by the root: JCGM 100:2008, 4.3.7 and 5.1.2', () => {
    const { diameterMm: d, u } = diameterEstimate(25, 1.31, { low: 0.5, high: 0.7 }, 0)
    expectWithin(u, (d / 2) * (0.1 / Math.sqrt(3) / 0.6), 1e-14)
    // Numerically, by the slope of the model itself.
    const slope = (diameterMm(25, 1.31, 0.6001) - diameterMm(25, 1.31, 0.5999)) / 0.0002
    expectWithin(u, Math.abs(slope) * (0.1 / Math.sqrt(3)), 1e-6)
  })

  test('adds the tex’s own in quadrature', () => {
    const { diameterMm: d, u } = diameterEstimate(100, 1.31, { low: 0.6, high: 0.6 }, 4)
    expectWithin(u, d * 0.02, 1e-14)
  })

  test('refuses a range the wrong way round', () => {
    expect(() => diameterEstimate(25, 1.31, { low: 0.7, high: 0.6 }, 0)).toThrow(
      'packing.low must be at most packing.high',
    )
  })
})

describe('blendDensity(blend, densityOf)', () => {
  const densityOf = (fibre: string) => FIBRES[fibre]!.densityGPerCm3

  test('of one fibre is its own', () => {
    expectWithin(blendDensity([{ fibre: 'silk', percent: 100 }], densityOf), 1.34, 1e-14)
  })

  test('adds volumes, not densities', () => {
    const blend = [
      { fibre: 'wool', percent: 80 },
      { fibre: 'linen', percent: 20 },
    ]
    expectWithin(blendDensity(blend, densityOf), 100 / (80 / 1.31 + 20 / 1.53), 1e-14)
  })

  test('refuses shares that do not add up to 100', () => {
    expect(() => blendDensity([{ fibre: 'wool', percent: 80 }], densityOf)).toThrow(
      'the shares must add up to 100 %, not 80 %',
    )
  })
})

test('diameterFromWraps(wraps, lengthMm): twenty wraps to the inch are 1.27 mm', () => {
  expectWithin(diameterFromWraps(20, 25.4), 1.27, 1e-14)
})

test('texFromWraps(wrapsPerCm, kind): forty to the inch, 10 % for worsted, is 44² = 1936 yd/lb (a spinner’s rule, weak source)', () => {
  expectWithin(texFromWraps(40 / 2.54, 'worsted'), 496_054.648 / 1936, 1e-9)
})
