import { describe, expect, test } from 'vitest'
import { drawTablet, standingHoles, TABLET_MM } from '../../../shared/draft/picture/tablet-drawing.ts'
import { threadingPicture } from '../../../shared/draft/picture/threading-picture.ts'
import { makeTablet } from '../arbitrary-draft.ts'
import { listElements, listSvgFaults, readSvg } from './read-svg.ts'
import { chevrons, COLOURS, FOUR_BY_EIGHT } from './sample-draft.ts'

describe('standingHoles(tablet)', () => {
  test('of a tablet that starts at A: A top-near, B bottom-near, C bottom-far, D top-far', () => {
    expect(standingHoles(makeTablet({ start: 'A' }))).toEqual([
      { letter: 'A', thread: 'm', isFar: false, isTop: true },
      { letter: 'B', thread: 'w', isFar: false, isTop: false },
      { letter: 'C', thread: 'b2', isFar: true, isTop: false },
      { letter: 'D', thread: 'm', isFar: true, isTop: true },
    ])
  })

  test('of a tablet that starts at C is turned by half', () => {
    expect(standingHoles(makeTablet({ start: 'C' })).map(({ letter }) => letter)).toEqual(['C', 'D', 'A', 'B'])
  })
})

describe('drawTablet(tablet, colours)', () => {
  const strandsFromAbove = (threading: 'S' | 'Z') =>
    [
      ...drawTablet(makeTablet({ threading }), COLOURS).matchAll(
        /stroke="#\w+" stroke-width="1.15" d="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)"/g,
      ),
    ].map(([, x0, y0, x1, y1]) => Math.sign((Number(y1) - Number(y0)) * (Number(x1) - Number(x0))))

  test('lets the two top threads fall from far left to near right in S, and rise in Z, the far edge being up', () => {
    expect(strandsFromAbove('S')).toEqual([1, 1])
    expect(strandsFromAbove('Z')).toEqual([-1, -1])
  })

  test('leaves an empty hole empty, with a broken rim', () => {
    const drawing = drawTablet(makeTablet({ holes: [null, null, null, null] }), COLOURS)
    expect(drawing.match(/stroke-dasharray/g)).toHaveLength(4)
    expect(drawing).not.toMatch(/stroke="#|fill="#/)
  })

  test('refuses a colour that is not there', () => {
    expect(() => drawTablet(makeTablet({ holes: ['m', 'm', 'm', 'x'] }), COLOURS)).toThrow('not x')
  })
})

describe('threadingPicture(draft, options)', () => {
  test('draws four tablets as in the snapshot', async () => {
    const svg = threadingPicture(FOUR_BY_EIGHT, { idPrefix: 'p' })
    expect(listSvgFaults(svg, 'p')).toEqual([])
    await expect(svg.replaceAll('><', '>\n<') + '\n').toMatchFileSnapshot('snapshots/four-by-eight-threading.svg')
  })

  test('wraps into rows, draws tablets built alike once and sets the border apart', () => {
    const root = readSvg(threadingPicture(chevrons(24, 1), { perRow: 8, idPrefix: 'p' }))
    expect(root.attributes.width).toBe(`${8 * TABLET_MM.width}mm`)
    const uses = listElements(root).filter(({ name }) => name === 'use')
    expect(uses).toHaveLength(24)
    expect(new Set(uses.map(({ attributes }) => attributes.href)).size).toBe(8)
    const four = readSvg(threadingPicture(FOUR_BY_EIGHT, { idPrefix: 'p' }))
    expect(Number.parseFloat(four.attributes.width!)).toBeGreaterThan(4 * TABLET_MM.width)
  })

  test('refuses a colour that is no hex, and rows of no tablets', () => {
    const colours = { ...COLOURS, m: { name: 'madder', hex: 'url(#x)' } }
    expect(() => threadingPicture({ ...FOUR_BY_EIGHT, colours }, { idPrefix: 'p' })).toThrow(RangeError)
    expect(() => threadingPicture(FOUR_BY_EIGHT, { perRow: 0, idPrefix: 'p' })).toThrow('perRow')
  })
})
