import { expect, test } from 'vitest'
import { diameterFromPhoto } from '../../shared/yarn/photo-scale.ts'
import { expectWithin } from '../measure/reference.ts'

test('diameterFromPhoto(reading) is the share of the scale: ten threads over 180 of 600 pixels that are 10 mm', () => {
  const { diameterMm, u } = diameterFromPhoto({ threadsPx: 180, threads: 10, scalePx: 600, scaleMm: 10 })
  expectWithin(diameterMm, 0.3, 1e-14)
  // JCGM 100:2008, 5.1.6: relative uncertainties of a quotient add in squares; an end is rectangular over ± 1 pixel.
  expectWithin(u, 0.3 * Math.sqrt((2 / 3) * (1 / 180 ** 2 + 1 / 600 ** 2)), 1e-14)
})

test('diameterFromPhoto(reading) refuses what cannot be', () => {
  const good = { threadsPx: 180, threads: 10, scalePx: 600, scaleMm: 10 }
  for (const key of Object.keys(good)) expect(() => diameterFromPhoto({ ...good, [key]: 0 })).toThrow(RangeError)
})
