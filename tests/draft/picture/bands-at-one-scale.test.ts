import { describe, expect, test } from 'vitest'
import { weftLoopMm } from '../../../shared/draft/picture/band.ts'
import { bandsAtOneScale } from '../../../shared/draft/picture/bands-at-one-scale.ts'
import { roundLengthMm, scaleBar } from '../../../shared/draft/picture/scale-bar.ts'
import { listElements, listSvgFaults, readSvg } from './read-svg.ts'
import { chevrons, woven } from './sample-draft.ts'

describe('scaleBar(lengthMm)', () => {
  test('is as long as it says, with a tick at every mm and both ends named', () => {
    const { content, widthMm } = scaleBar(50)
    expect(widthMm).toBe(56)
    expect(content).toContain('M3 3H53')
    expect(content.match(/M[\d.]+ 3v-/g)).toHaveLength(51)
    expect(content).toContain('>0</text>')
    expect(content).toContain('>50 mm</text>')
  })

  test('has ticks at every 5 mm beyond 60 mm, at every 10 mm beyond 300 mm', () => {
    expect(scaleBar(100).content.match(/M[\d.]+ 3v-/g)).toHaveLength(21)
    expect(scaleBar(500).content.match(/M[\d.]+ 3v-/g)).toHaveLength(51)
  })

  test('refuses no length, and one over 2 m', () => {
    expect(() => scaleBar(0)).toThrow('lengthMm must be more than zero, not 0')
    expect(() => scaleBar(2001)).toThrow(RangeError)
  })
})

test('roundLengthMm(mostMm) is 1, 2 or 5 and noughts', () => {
  expect([73, 50, 49.9, 12, 9.99, 0.3].map(roundLengthMm)).toEqual([50, 50, 20, 10, 5, 0.2])
  expect(() => roundLengthMm(-1)).toThrow(RangeError)
})

describe('bandsAtOneScale(bands, options)', () => {
  const band = (label: string, widthMm: number, lengthMm: number) => {
    const draft = chevrons(10, 20)
    return { label, draft, woven: woven(draft), side: 'face' as const, widthMm, pickHeightMm: 1.25, lengthMm }
  }
  const pair = [band('Original <1>', 13, 90), band('Replica', 20, 50)]
  const options = { idPrefix: 'pair', title: 'Original & replica' }

  test('lays bands side by side at their own widths, first picks on one line, with letters for the page to explain', () => {
    const { svg, marks } = bandsAtOneScale(pair, options)
    const loops = [2 * weftLoopMm(1.3, 1.25), 2 * weftLoopMm(2, 1.25)] as const
    expect(marks.map(({ letter, label }) => [letter, label])).toEqual([
      ['a', 'Original <1>'],
      ['b', 'Replica'],
    ])
    expect(marks[0]!.widthMm).toBeCloseTo(13 + loops[0], 9)
    expect(marks[1]!.widthMm).toBeCloseTo(20 + loops[1], 9)
    expect(marks[1]!.xMm).toBeCloseTo(13 + loops[0] + 8, 9)
    const placed = readSvg(svg).children.filter(({ name }) => name === 'g')
    expect(placed.map(({ attributes }) => attributes.transform!.split(' ')[1])).toEqual(['0)', '40)', '96)'])
    expect(listElements(readSvg(svg)).find(({ text }) => text === 'Original &lt;1&gt;')).toBeDefined()
  })

  test('has ids that do not clash, though one draft stands in it twice', () => {
    expect(listSvgFaults(bandsAtOneScale(pair, options).svg, 'pair')).toEqual([])
  })

  test('has a scale bar of a round length that fits under it', () => {
    const { svg, scaleMm } = bandsAtOneScale(pair, options)
    expect(scaleMm).toBe(20)
    expect(svg).toContain('>20 mm</text>')
  })

  test('goes on to aa after z', () => {
    const many = Array.from({ length: 28 }, () => band('x', 5, 5))
    expect(
      bandsAtOneScale(many, options)
        .marks.slice(25)
        .map(({ letter }) => letter),
    ).toEqual(['z', 'aa', 'ab'])
  })

  test('refuses no bands and a width of zero', () => {
    expect(() => bandsAtOneScale([], options)).toThrow('bands must hold at least one')
    expect(() => bandsAtOneScale([band('x', 0, 10)], options)).toThrow('widthMm must be more than zero, not 0')
  })
})
