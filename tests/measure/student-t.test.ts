import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { centralNormal, tailNormal } from '../../shared/measure/normal.ts'
import { studentT } from '../../shared/measure/student-t.ts'
import { expectWithin, readReference } from './reference.ts'

interface Quantiles {
  readonly columnsTwoSidedP: readonly string[]
  readonly published: readonly { nu: number | 'infinity'; t: number[] }[]
  readonly recomputed20digits: readonly ({ nu: number } & Record<string, string | number>)[]
  readonly recomputedInfinity: Readonly<Record<string, string>>
  readonly recomputedFractionalNu: readonly Record<string, string>[]
  readonly exactSigmaLevels: { readonly rows: readonly { nu: number; k1: string; k2: string; k3: string }[] }
}
const T = readReference<Quantiles>('measure/reference/t-quantiles.json')

/** What the columns headed 68.27, 95.45 and 99.73 stand for: 1, 2 and 3 standard deviations of a normal variable. */
const SIGMA = [0.682689492137086, 0.954499736103642, 0.99730020393674]

/** Two cells that the document itself prints otherwise than the plain rounding. */
const DEVIATING: Readonly<Record<string, string>> = {
  '35 at 0.90': 'prints 1.70; exact 1.68957 rounds to 1.69, apparently a misprint',
  '1 at 0.9973': 'prints 235.80, the value for exactly three standard deviations; 0.9973 gives 235.78',
}

describe('JCGM 100:2008, table G.2 (= NIST TN 1297, table B.1)', () => {
  const cells = T.published.flatMap(({ nu, t }) =>
    T.columnsTwoSidedP.map((p, column) => ({ nu, p, printed: t[column] ?? NaN })),
  )

  test('has 28 rows of six columns', () => {
    expect(cells).toHaveLength(168)
  })

  test.each(cells.filter(({ nu, p }) => !DEVIATING[`${nu} at ${p}`]))(
    'studentT($p, $nu) prints as $printed',
    (cell) => {
      const value = studentT(Number(cell.p), cell.nu === 'infinity' ? Infinity : cell.nu)
      // Two decimals; three in the rows of 100 and of infinity.
      const step = cell.nu === 'infinity' || cell.nu === 100 ? 0.001 : 0.01
      expect(Math.abs(value - cell.printed)).toBeLessThanOrEqual(step / 2 + 1e-9)
    },
  )

  test('the two deviating cells deviate as described', () => {
    expect(Object.keys(DEVIATING)).toHaveLength(2)
    expect(studentT(0.9, 35).toFixed(5)).toBe('1.68957')
    expect(studentT(0.9973, 1).toFixed(2)).toBe('235.78')
    expect(studentT(SIGMA[2] ?? NaN, 1).toFixed(2)).toBe('235.80')
  })
})

describe('studentT against the same quantiles worked to 20 digits', () => {
  test('whole degrees of freedom, six coverages each', () => {
    for (const row of T.recomputed20digits)
      for (const p of T.columnsTwoSidedP) expectWithin(studentT(Number(p), row.nu), row[p] ?? NaN, 1e-12)
  })

  test('infinite degrees of freedom', () => {
    for (const [p, z] of Object.entries(T.recomputedInfinity)) expectWithin(studentT(Number(p), Infinity), z, 1e-12)
  })

  test('fractional degrees of freedom are used as they are', () => {
    for (const { nu, ...columns } of T.recomputedFractionalNu)
      for (const [p, t] of Object.entries(columns)) expectWithin(studentT(Number(p), Number(nu)), t, 1e-12)
  })

  test('the exact one, two and three standard deviations', () => {
    for (const { nu, k1, k2, k3 } of T.exactSigmaLevels.rows)
      for (const [index, k] of [k1, k2, k3].entries()) expectWithin(studentT(SIGMA[index] ?? NaN, nu), k, 1e-11)
  })
})

test('studentT has closed forms at one and two degrees of freedom', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 9999 }), (step) => {
      const p = step / 10_000
      expectWithin(studentT(p, 1), Math.tan((Math.PI * p) / 2), 1e-10)
      expectWithin(studentT(p, 2), p * Math.sqrt(2 / (1 - p * p)), 1e-10)
    }),
  )
})

test('studentT falls as the degrees of freedom rise, across the change of method at 10 000 too', () => {
  const df = [0.5, 1, 1.5, 2, 10, 100, 1000, 9999, 10_000, 10_001, 1e6, Infinity]
  const k = df.map((each) => studentT(0.95, each))
  expect(k).toEqual([...k].sort((a, b) => b - a))
  expect(new Set(k).size).toBe(df.length)
  expect(Math.abs(studentT(0.95, 10_000) - studentT(0.95, 10_001))).toBeLessThan(3e-8)
})

test.each([
  [0, 9],
  [1, 9],
  [NaN, 9],
  [0.95, 0],
  [0.95, -1],
  [0.95, NaN],
])('studentT(%d, %d) is refused', (coverage, df) => {
  expect(() => studentT(coverage, df)).toThrow(RangeError)
})

// JCGM 100:2008, table G.1: 68.27 %, 95.45 %, 99.73 %; the further digits are erf(k / sqrt 2).
test('centralNormal gives the shares within one, two and three standard deviations, tailNormal the rest', () => {
  for (const [index, share] of SIGMA.entries()) {
    expectWithin(centralNormal(index + 1), share, 1e-14)
    expectWithin(tailNormal(index + 1), 1 - share, 1e-12)
  }
  expect(() => centralNormal(-1)).toThrow(RangeError)
  expect(() => tailNormal(NaN)).toThrow(RangeError)
})
