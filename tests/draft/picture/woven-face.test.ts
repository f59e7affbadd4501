import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Draft } from '../../../shared/draft/draft.ts'
import { drawBand, weftLoopMm } from '../../../shared/draft/picture/band.ts'
import { picksIn, wovenFace, type WovenFaceOptions } from '../../../shared/draft/picture/woven-face.ts'
import { colourGrid, weave } from '../../../shared/draft/weave.ts'
import { arbitraryDraft } from '../arbitrary-draft.ts'
import { listElements, listSvgFaults, readSvg } from './read-svg.ts'
import { chevrons, COLOURS, FOUR_BY_EIGHT, lozenges, woven } from './sample-draft.ts'

const usual = { side: 'face', tabletWidthMm: 1, pickHeightMm: 0.9, idPrefix: 'p' } as const

const draw = (draft: Draft, changes: Partial<WovenFaceOptions> = {}) =>
  wovenFace(draft, woven(draft), { ...usual, ...changes })

describe('wovenFace(draft, woven, options)', () => {
  test('draws four tablets and eight picks as in the snapshot, face and reverse', async () => {
    await expect(readable(draw(FOUR_BY_EIGHT))).toMatchFileSnapshot('snapshots/four-by-eight-face.svg')
    await expect(readable(draw(FOUR_BY_EIGHT, { side: 'reverse' }))).toMatchFileSnapshot(
      'snapshots/four-by-eight-reverse.svg',
    )
    await expect(readable(draw(FOUR_BY_EIGHT, { detail: 'low' }))).toMatchFileSnapshot(
      'snapshots/four-by-eight-low.svg',
    )
  })

  test('is well formed, without style, script or stray ids, whatever is woven', () => {
    fc.assert(
      fc.property(arbitraryDraft, fc.constantFrom('high' as const, 'low' as const), ({ draft, turning }, detail) => {
        const svg = wovenFace(draft, weave(draft, turning), { ...usual, detail, idPrefix: 'any-1' })
        expect(listSvgFaults(svg, 'any-1')).toEqual([])
      }),
    )
  })

  test('has the true size in mm: the tablets and a weft loop at each edge, by the picks', () => {
    const { attributes } = readSvg(draw(FOUR_BY_EIGHT, { tabletWidthMm: 0.95, pickHeightMm: 1.25 }))
    const breadth = 4 * 0.95 + 2 * weftLoopMm(0.95, 1.25)
    expect(Number.parseFloat(attributes.width!)).toBeCloseTo(breadth, 3)
    expect(attributes).toMatchObject({ width: '4.218mm', height: '10mm', viewBox: '0 0 4.218 10', role: 'img' })
  })

  test('lying across has the same size, turned', () => {
    const { attributes } = readSvg(draw(FOUR_BY_EIGHT, { tabletWidthMm: 0.95, pickHeightMm: 1.25, lie: 'across' }))
    expect(attributes).toMatchObject({ width: '10mm', height: '4.218mm', viewBox: '0 0 10 4.218' })
  })

  test('is drawn to a length in whole picks, and no other way at the same time', () => {
    expect(readSvg(draw(FOUR_BY_EIGHT, { lengthMm: 100, pickHeightMm: 1.25 })).attributes.height).toBe('100mm')
    expect(readSvg(draw(FOUR_BY_EIGHT, { lengthMm: 0.1 })).attributes.height).toBe('.9mm')
    expect(readSvg(draw(FOUR_BY_EIGHT, { picksShown: 3 })).attributes.height).toBe('2.7mm')
    expect(() => draw(FOUR_BY_EIGHT, { lengthMm: 100, picksShown: 3 })).toThrow('cannot both be given')
  })

  test('of one colour covers as much as the engine counts stitches of it', () => {
    for (const draft of [chevrons(12, 21), lozenges(14, 50)]) {
      for (const side of ['face', 'reverse'] as const) {
        const counted: Record<string, number> = {}
        for (const key of colourGrid(draft, woven(draft), side).flat()) {
          const { hex } = COLOURS[key as keyof typeof COLOURS]
          counted[hex] = (counted[hex] ?? 0) + 1
        }
        expect(coveredBy(draw(draft, { side, detail: 'low' }))).toEqual(counted)
      }
    }
  })

  test('of the reverse puts tablet 1 at the right', () => {
    const first = { ...chevrons(3, 4), tablets: [...FOUR_BY_EIGHT.tablets.slice(0, 1), ...chevrons(2, 4).tablets] }
    const madderAt = (side: 'face' | 'reverse') =>
      /fill="#9c3b2e" d="M(\d+)/.exec(draw(first, { side, detail: 'low' }))?.[1]
    expect([madderAt('face'), madderAt('reverse')]).toEqual(['0', '4'])
  })

  test('gives the same words twice, and others only in the ids for another prefix', () => {
    const one = draw(lozenges(10, 48))
    expect(draw(lozenges(10, 48))).toBe(one)
    const other = draw(lozenges(10, 48), { idPrefix: 'q' })
    expect(other).not.toBe(one)
    expect(other.replaceAll('"q-', '"p-').replaceAll('#q-', '#p-')).toBe(one)
  })

  test('escapes the title, and says which side it is', () => {
    const title = readSvg(draw({ ...FOUR_BY_EIGHT, title: '<b>"S" & Z\u0000' }, { side: 'reverse' })).children[0]!
    expect(title).toMatchObject({ name: 'title', text: '&lt;b&gt;&quot;S&quot; &amp; Z, reverse' })
  })

  test('lays a background behind the band when asked, and refuses one that is no colour', () => {
    expect(draw(FOUR_BY_EIGHT, { background: '#f5efe2' })).toContain(
      '<rect width="100%" height="100%" fill="#f5efe2"/>',
    )
    expect(() => draw(FOUR_BY_EIGHT, { background: '"/><script>' })).toThrow(RangeError)
  })

  test.each([
    ['a colour that is no hex', { colours: { ...COLOURS, m: { name: 'x', hex: 'red" onload="x' } } }, {}],
    ['a colour that is missing', { weft: 'x' }, {}],
    ['a colour named as every object has one', { weft: 'constructor' }, {}],
    ['a width of zero', {}, { tabletWidthMm: 0 }],
    ['a height that is not finite', {}, { pickHeightMm: Number.POSITIVE_INFINITY }],
    ['no picks', {}, { picksShown: 0 }],
    ['over a million stitches', {}, { lengthMm: 300_000 }],
    ['a prefix that breaks out of the attribute', {}, { idPrefix: 'a"' }],
  ])('refuses %s', (_, draftChanges, changes) => {
    const draft = { ...FOUR_BY_EIGHT, ...draftChanges }
    expect(() => wovenFace(draft, woven(FOUR_BY_EIGHT), { ...usual, ...changes })).toThrow(RangeError)
  })

  test('stays small: cords and stretches that come back are drawn once', () => {
    expect(draw(chevrons(24, 72)).length).toBeLessThan(20_000)
    expect(draw(lozenges(24, 72)).length).toBeLessThan(60_000)
    expect(draw(lozenges(200, 400)).length).toBeLessThan(250_000)
    expect(draw(chevrons(24, 72), { lengthMm: 2000 }).length).toBeLessThan(200_000)
  })
})

test('drawBand(draft, woven, look, idPrefix) gives what wovenFace puts into its frame', () => {
  const { content, widthMm, heightMm } = drawBand(FOUR_BY_EIGHT, woven(FOUR_BY_EIGHT), { ...usual, picks: 8 }, 'p')
  expect(draw(FOUR_BY_EIGHT)).toContain(content)
  expect([widthMm, heightMm]).toEqual([4 + 2 * weftLoopMm(1, 0.9), 7.2])
})

test('picksIn(lengthMm, pickHeightMm): 90 mm are 72 picks of 1.25 mm; never none', () => {
  expect([picksIn(90, 1.25), picksIn(0.01, 1)]).toEqual([72, 1])
  expect(() => picksIn(0, 1)).toThrow('lengthMm must be more than zero, not 0')
})

/** One element a line, so that a snapshot can be read and compared. */
const readable = (svg: string) => svg.replaceAll('><', '>\n<') + '\n'

/** How many stitches each fill covers in a picture of low detail, where a stitch is 2 by 2: the area of its pieces. */
function coveredBy(svg: string): Record<string, number> {
  const covered: Record<string, number> = {}
  const flat = listElements(readSvg(svg)).find(({ attributes }) => attributes.transform?.startsWith('scale('))!
  for (const { attributes } of flat.children) {
    let area = 0
    for (const piece of attributes.d!.matchAll(/M\d+ ?-?\d+l2 ?(-?\d+)v(\d+)l-2 ?(-?\d+)z/g)) {
      const [rise, right, fall] = [Number(piece[1]), Number(piece[2]), Number(piece[3])]
      area += right + (right + rise + fall)
    }
    covered[attributes.fill!] = area / 4
  }
  return covered
}
