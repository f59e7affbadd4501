import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { drawByDictionary } from '../../../shared/draft/picture/dictionary.ts'
import { escapeXml, requireIdPrefix, short } from '../../../shared/draft/picture/svg.ts'
import { listElements, readSvg } from './read-svg.ts'

const mark = (steps: Uint32Array, at: number) =>
  Array.from(steps, (step, i) => `<p n="${step}" y="${at + i * 10}"/>`).join('')

describe('drawByDictionary(columns, stepUnits, stepBytes, idPrefix, draw)', () => {
  test('draws every step at its height once the uses are followed', () => {
    const column = fc.array(fc.integer({ min: 0, max: 3 }), { minLength: 1, maxLength: 70 })
    fc.assert(
      fc.property(fc.array(column, { minLength: 1, maxLength: 5 }), (columns) => {
        const { defs, columns: drawn } = drawByDictionary(
          columns.map((c) => Uint32Array.from(c)),
          10,
          60,
          'd',
          mark,
        )
        const byId = new Map(readSvg(`<defs>${defs}</defs>`).children.map((group) => [group.attributes.id, group]))
        drawn.forEach((words, at) => {
          const steps = readSvg(`<g>${words}</g>`).children.flatMap(({ name, attributes }) => {
            if (name === 'p') return { n: Number(attributes.n), y: Number(attributes.y) }
            return byId.get(attributes.href!.slice(1))!.children.map((step) => ({
              n: Number(step.attributes.n),
              y: Number(step.attributes.y) + Number(attributes.y ?? 0),
            }))
          })
          expect(steps).toEqual(columns[at]!.map((n, i) => ({ n, y: i * 10 })))
        })
      }),
    )
  })

  test('writes what comes back only once', () => {
    const column = new Uint32Array(64).fill(7)
    const { defs, columns } = drawByDictionary([column, column], 10, 60, 'd', mark)
    expect(listElements(readSvg(`<defs>${defs}</defs>`)).filter(({ name }) => name === 'p').length).toBeLessThan(64)
    expect(columns[0]).toBe(columns[1])
  })
})

test('short(value, decimals) drops what SVG does not need, and refuses what is no number', () => {
  expect([short(0.5), short(-0.25), short(-0.001), short(12), short(1.005, 1)]).toEqual(['.5', '-.25', '0', '12', '1'])
  expect(() => short(Number.NaN)).toThrow(RangeError)
})

test('escapeXml(text) leaves out what XML forbids, lone surrogates too, and keeps the rest', () => {
  expect(escapeXml('a<b>&"\u0001\ud800\n😀')).toBe('a&lt;b&gt;&amp;&quot;\n😀')
})

test('requireIdPrefix(idPrefix) takes a word and refuses anything else', () => {
  expect(requireIdPrefix('piece-3_b')).toBe('piece-3_b')
  for (const bad of ['', '3a', 'a b', 'a"', 'a#', 'é']) expect(() => requireIdPrefix(bad)).toThrow(RangeError)
})
