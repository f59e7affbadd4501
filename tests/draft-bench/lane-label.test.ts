import { expect, test } from 'vitest'
import { labelsOf } from '../../views/client/draft-bench/lane-label.ts'

test('labelsOf(lanes) numbers as many as stand clear of each other, and the last one always', () => {
  const lanes = Array.from({ length: 400 }, (_, at) => ({ from: at, to: at, zeroPx: 5 * at }))
  const labels = labelsOf(lanes)
  expect(labels[0]).toEqual({ text: '1', topPx: 0 })
  expect(labels.at(-1)).toEqual({ text: '400', topPx: 1995 })
  const apart = labels.slice(1).map(({ topPx }, at) => topPx - labels[at]!.topPx)
  expect(Math.min(...apart)).toBeGreaterThanOrEqual(13)
  expect(labels.length).toBeGreaterThan(120)
  const bundles = [
    { from: 0, to: 2, zeroPx: 4 },
    { from: 3, to: 3, zeroPx: 6 },
  ]
  expect(labelsOf(bundles)).toEqual([{ text: '4', topPx: 6 }])
  expect(labelsOf([])).toEqual([])
})
