import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  convertCount,
  COUNT_SYSTEMS,
  countOf,
  resultantTexOf,
  texOf,
  type CountSystem,
} from '../../shared/yarn/count.ts'
import { expectWithin, readReference } from '../measure/reference.ts'

interface Pair {
  readonly from: CountSystem
  readonly value: number
  readonly to: CountSystem
  readonly printed: number
  readonly places: number
  readonly exact?: number
  readonly source: string
}
const PAIRS = readReference<Pair[]>('yarn/reference/count-pairs.json')
const SYSTEMS = Object.keys(COUNT_SYSTEMS) as CountSystem[]

describe('convertCount(value, from, to)', () => {
  test.each(PAIRS)('$value $from is $printed $to: $source', ({ from, value, to, printed, places, exact }) => {
    const found = convertCount(value, from, to).value
    expect(found.toFixed(places)).toBe(printed.toFixed(places))
    // The exact values are written to six or seven decimals.
    if (exact !== undefined) expectWithin(found, exact, 5e-8)
  })

  test.each(PAIRS)(
    'and back: $printed $to is $value $from, as far as it is printed',
    ({ from, value, to, ...pair }) => {
      const { printed, places, exact } = pair
      const back = (count: number) => convertCount(count, to, from).value
      const half = 0.5 * 10 ** -places
      const ends = [back(printed - half), back(printed + half)].sort((left, right) => left - right)
      expect(value).toBeGreaterThanOrEqual(ends[0]!)
      expect(value).toBeLessThanOrEqual(ends[1]!)
      if (exact !== undefined) expectWithin(back(exact), value, 5e-8)
    },
  )

  test('is held to thirty published or exactly worked pairs at least', () => {
    expect(PAIRS.length).toBeGreaterThanOrEqual(30)
  })

  // ASTM D2260, table 1: exact ratios between the systems.
  test.each<[CountSystem, CountSystem, number]>([
    ['NeC', 'NeW', 1.5],
    ['NeC', 'NeL', 2.8],
    ['NeC', 'run', 0.525],
    ['NeW', 'run', 0.35],
    ['NeL', 'run', 0.1875],
    ['NeC', 'ydPerLb', 840],
    ['NeW', 'ydPerLb', 560],
    ['run', 'ydPerLb', 1600],
    ['NeL', 'ydPerLb', 300],
    ['tex', 'denier', 9],
    ['tex', 'dtex', 10],
    ['ktex', 'tex', 1000],
  ])('1 %s is %s times %d', (from, to, times) => {
    expectWithin(convertCount(1, from, to).value, times, 1e-15)
  })

  // The constants that tables print, to the digits they print.
  test.each<[CountSystem, string]>([
    ['NeC', '590.541247'],
    ['NeW', '885.811871'],
    ['NeL', '1653.515493'],
    ['run', '310.034155'],
    ['YSW', '1937.713468'],
    ['spyndle', '34.448239'],
    ['dram', '1.937713'],
    ['ydPerLb', '496054.648'],
    ['Nm', '1000'],
    ['mPer100g', '100000'],
  ])('1 %s is %s tex', (system, constant) => {
    expect(texOf(1, system).toFixed(constant.split('.')[1]?.length ?? 0)).toBe(constant)
  })

  test('knows fourteen systems, and comes back to the same count through any other', () => {
    expect(SYSTEMS).toHaveLength(14)
    const system = fc.constantFrom(...SYSTEMS)
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 10_000, noNaN: true }), system, system, (value, from, to) => {
        expectWithin(convertCount(convertCount(value, from, to).value, to, from).value, value, 1e-14)
      }),
    )
  })

  test('from a system to itself hands the number back as it came', () => {
    for (const system of SYSTEMS) expect(convertCount(0.1 + 0.2, system, system).value).toBe(0.1 + 0.2)
  })

  test('gives the single in value and tex, and the plied yarn in resultantTex', () => {
    // Yarn conversion page of TGE GmbH: Nm 80/2 = 12.5 tex x 2.
    expect(convertCount(80, 'Nm', 'tex', 2)).toEqual({ value: 12.5, tex: 12.5, resultantTex: 25 })
    // H1, Complex Weavers: 8/2 cotton is 3360 yd to the pound, a resultant of Ne 4.
    expectWithin(countOf(convertCount(8, 'NeC', 'tex', 2).resultantTex, 'ydPerLb'), 3360, 1e-14)
  })

  test.each([
    [0, 1],
    [-30, 1],
    [NaN, 1],
    [Infinity, 1],
    [30, 0],
    [30, 1.5],
    [1e-320, 1],
  ])('refuses a count of %d with ply %d', (value, ply) => {
    expect(() => convertCount(value, 'NeC', 'tex', ply)).toThrow(RangeError)
  })
})

// C. P. Brooks, Cotton Manufacturing: unequal folds.
test.each([
  [[40, 20], '13.33'],
  [[40, 80, 120], '21.82'],
])('resultantTexOf cotton singles %j is cotton %s', (singles, resultant) => {
  expect(countOf(resultantTexOf(singles.map((count) => texOf(count, 'NeC'))), 'NeC').toFixed(2)).toBe(resultant)
})

test('resultantTexOf refuses no singles and a single without weight', () => {
  expect(() => resultantTexOf([])).toThrow(RangeError)
  expect(() => resultantTexOf([20, 0])).toThrow(/singlesTex\[1\]/)
})

test('countOf refuses a yarn without weight', () => {
  expect(() => countOf(0, 'Nm')).toThrow(RangeError)
})
