import { describe, expect, test } from 'vitest'
import { fitLine, lineAt } from '../../shared/measure/line.ts'
import { studentT } from '../../shared/measure/student-t.ts'
import { expectWithin, readReference } from './reference.ts'

interface Points {
  readonly x: readonly string[]
  readonly y: readonly string[]
}
const NORRIS = readReference<
  Points & { certified: Record<string, string>; recomputedExact: { predictionAt500: Record<string, string> } }
>('measure/reference/nist-norris.json')
const MONTGOMERY = readReference<Points>('measure/reference/prediction-interval.json')
const H3 = readReference<{ annex_H_3: { t_degC: string[]; b_degC: string[] } }>(
  'measure/reference/gum-examples.json',
).annex_H_3

describe('NIST StRD, Norris, certified values', () => {
  const line = fitLine(NORRIS.x.map(Number), NORRIS.y.map(Number))

  test('fitLine gives both parameters and the residual scatter', () => {
    // B0 is a small difference of large numbers, so that a double holds a digit less of it.
    expectWithin(line.intercept, NORRIS.certified['B0'] ?? NaN, 1e-12)
    expectWithin(line.slope, NORRIS.certified['B1'] ?? NaN, 1e-14)
    expectWithin(line.s, NORRIS.certified['residualSD'] ?? NaN, 1e-12)
    expect(line.df).toBe(34)
  })

  test('fitLine gives the standard deviations of both parameters', () => {
    expectWithin(line.uIntercept, NORRIS.certified['seB0'] ?? NaN, 1e-12)
    expectWithin(line.uSlope, NORRIS.certified['seB1'] ?? NaN, 1e-12)
  })

  test('lineAt(line, 500) agrees with exact arithmetic on the same data (not certified)', () => {
    const at = lineAt(line, 500)
    const exact = NORRIS.recomputedExact.predictionAt500
    expectWithin(at.y, exact['yhat'] ?? NaN, 1e-14)
    expectWithin(at.uMean, exact['seMean'] ?? NaN, 1e-12)
    expectWithin(at.uNew, exact['sePrediction'] ?? NaN, 1e-12)
  })
})

describe('JCGM 100:2008, H.3: calibration of a thermometer', () => {
  const line = fitLine(
    H3.t_degC.map((t) => Number(t) - 20),
    H3.b_degC.map(Number),
  )

  test('fitLine gives the printed intercept, slope, scatter', () => {
    expect(line.intercept.toFixed(4)).toBe('-0.1712')
    expect(line.uIntercept.toFixed(4)).toBe('0.0029')
    expect(line.slope.toFixed(5)).toBe('0.00218')
    expect(line.uSlope.toFixed(5)).toBe('0.00067')
    expect(line.s.toFixed(4)).toBe('0.0035')
  })

  test('lineAt 30 °C gives the printed correction -0.1494 with u 0.0041', () => {
    expect(lineAt(line, 10).y.toFixed(4)).toBe('-0.1494')
    expect(lineAt(line, 10).uMean.toFixed(4)).toBe('0.0041')
  })
})

test('lineAt gives the prediction interval of Montgomery and Runger, 3rd ed., example 11-6', () => {
  const line = fitLine(MONTGOMERY.x.map(Number), MONTGOMERY.y.map(Number))
  const { y, uMean, uNew } = lineAt(line, 1)
  const t = studentT(0.95, line.df)
  expect(y.toFixed(3)).toBe('89.231')
  expect([y - t * uMean, y + t * uMean].map((end) => end.toFixed(3))).toEqual(['88.486', '89.975'])
  expect([y - t * uNew, y + t * uNew].map((end) => end.toFixed(3))).toEqual(['86.830', '91.632'])
})

test('fitLine refuses too few points, unequal lists, and x that do not differ', () => {
  expect(() => fitLine([1, 2], [1, 2])).toThrow(RangeError)
  expect(() => fitLine([1, 2, 3], [1, 2])).toThrow(RangeError)
  expect(() => fitLine([4, 4, 4], [1, 2, 3])).toThrow(RangeError)
  expect(() => lineAt(fitLine([0, 1, 2], [1, 3, 5]), NaN)).toThrow(RangeError)
})
