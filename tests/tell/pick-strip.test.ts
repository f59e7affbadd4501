import { expect, test } from 'vitest'
import { barStrip, kindStrip, picksInStrip } from '../../shared/draft/picture/pick-strip.ts'

const pathOf = (svg: string, name: string) => new RegExp(`class="${name}"[^>]* d="([^"]*)"`).exec(svg)![1]!

test('barStrip(counts, title) draws one bar a pick that counts, as high as its share of the highest', () => {
  const svg = barStrip([1, 4, 0, 2], 'Handfuls <&>')
  expect(svg).toContain('<title>Handfuls &lt;&amp;&gt;</title>')
  const heights = [...pathOf(svg, 'strip-bar').matchAll(/v(-[\d.]+)h/g)].map(([, height]) => Number(height))
  expect(heights).toEqual([-5.5, -22, -11])
})

test('kindStrip(kinds, title) draws one stroke a pick, equal picks equally high, later kinds higher', () => {
  const thick = /stroke-width=".7" d="([^"]*)"/.exec(kindStrip([0, 1, 2, 0], 'Kinds'))![1]!
  const strokes = [...thick.matchAll(/M[\d.]+ ([\d.]+)h/g)].map(([, y]) => Number(y))
  const [first, second, third, again] = strokes.slice(0, 4) as [number, number, number, number]
  expect(again).toBe(first)
  expect(first).toBeGreaterThan(second)
  expect(second).toBeGreaterThan(third)
})

test('both strips draw no more picks than can be seen, one kind alone, and refuse what is no count', () => {
  expect(picksInStrip(20_000)).toBe(1000)
  expect(barStrip(new Int32Array(20_000).fill(3), 'Long')).toMatch(/width="178mm"/)
  expect(kindStrip([0], 'One')).not.toContain('NaN')
  for (const strip of [barStrip, kindStrip]) {
    expect(() => strip([], 'None')).toThrow(RangeError)
    expect(() => strip([-1], 'Less')).toThrow(RangeError)
    expect(() => strip([0.5], 'Half')).toThrow(RangeError)
  }
})
