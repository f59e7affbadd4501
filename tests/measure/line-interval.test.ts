import { expect, test } from 'vitest'
import { fitLine } from '../../shared/measure/line.ts'
import { predictLine, slopeInterval } from '../../shared/measure/line-interval.ts'
import { expectWithin, readReference } from './reference.ts'

const { x, y } = readReference<{ x: string[]; y: string[] }>('measure/reference/prediction-interval.json')
const oxygen = fitLine(x.map(Number), y.map(Number))

// Montgomery and Runger, Applied Statistics and Probability for Engineers, 3rd ed., examples 11-5 and 11-6.
test('predictLine gives the published intervals of the line and of one new observation', () => {
  const { y: fitted, mean, single } = predictLine(oxygen, 1)
  expect(fitted.toFixed(3)).toBe('89.231')
  expect(mean.map((end) => end.toFixed(3))).toEqual(['88.486', '89.975'])
  expect(single.map((end) => end.toFixed(3))).toEqual(['86.830', '91.632'])
})

test('slopeInterval is the slope and t times its standard uncertainty, as published: 14.947, 1.317, t(18) = 2.101', () => {
  const [low, high] = slopeInterval(oxygen)
  expectWithin(low, 14.947 - 2.101 * 1.317, 1e-3)
  expectWithin(high, 14.947 + 2.101 * 1.317, 1e-3)
  expect(slopeInterval(fitLine([0, 1, 2], [1, 3, 5]))).toEqual([2, 2])
})

test('an interval of 80 % lies within that of 95 %', () => {
  const [narrow, wide] = [predictLine(oxygen, 1.2, 0.8).single, predictLine(oxygen, 1.2).single]
  expect(narrow[0]).toBeGreaterThan(wide[0])
  expect(narrow[1]).toBeLessThan(wide[1])
})
