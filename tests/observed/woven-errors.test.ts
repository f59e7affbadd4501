import { describe, expect, test } from 'vitest'
import { labOfHex } from '../../shared/colour/lab.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import { nameColours } from '../../shared/observed/name-colours.ts'
import { observedPicture } from '../../shared/observed/picture.ts'
import { toObservedFace } from '../../shared/observed/to-face.ts'
import { compareWithDraft } from '../../shared/observed/woven-errors.ts'

const COLOURS = { m: { name: 'madder', hex: '#9c3b2e' }, w: { name: 'undyed', hex: '#e9dfc8' } }

/** By hand: one tablet of m m w w that turns F F F shows m m w, then, standing on D, w m m, w w m, m w w, and is back. */
const OPEN: Draft = {
  ...{ title: 'Open', colours: COLOURS, weft: 'm', picks: ['1F', '1F', '1F'] },
  tablets: [{ threading: 'S', holes: ['m', 'm', 'w', 'w'], start: 'A', part: 'pattern' }],
}
const face = (...keys: (string | null)[]) => ({ cells: keys.map((key) => [key]) })

describe('compareWithDraft(draft, observed)', () => {
  test('goes on repeat after repeat, for one that does not close shows other threads the next time', () => {
    const found = compareWithDraft(OPEN, face(...'mmwwmmwwmmwwmmww'))
    expect(found).toEqual({ legible: 16, cells: 16, differing: [], shift: 0 })
  })

  test('moves the draft along to where the fewest cells differ, and passes over what is not legible', () => {
    const found = compareWithDraft(OPEN, face('w', 'm', null, 'w', 'w', 'w', 'm'))
    expect(found).toEqual({
      legible: 6,
      cells: 7,
      shift: 3,
      differing: [{ pick: 6, tablet: 1, seen: 'w', drafted: 'm' }],
    })
  })

  test('tells a colour that the draft does not have, and of an empty hole the weft', () => {
    const empty = { ...OPEN, tablets: [{ ...OPEN.tablets[0]!, holes: ['m', 'w', 'w', null] as const }] }
    expect(compareWithDraft(empty, face('x', 'w', 'w', 'm')).differing).toEqual([
      { pick: 1, tablet: 1, seen: 'x', drafted: 'm' },
    ])
  })

  test('refuses another number of tablets', () => {
    expect(() => compareWithDraft(OPEN, { cells: [['m', 'w']] })).toThrow(RangeError)
  })
})

describe('toObservedFace(read, keys, least, corrections)', () => {
  const read = {
    ...{ tablets: 2, picks: 2, lightRatio: 1 },
    colours: ['#9c3b2e', '#101010'].map((hex) => ({ hex, lab: labOfHex(hex), cells: 2 })),
    labels: Int8Array.from([0, 1, 0, -1]),
    confidence: Float64Array.from([0.95, 0.99, 0.7, 0]),
  }
  test('leaves open what is unsure, what has no key, and what lies outside; a hand decides over all', () => {
    expect(toObservedFace(read, ['m', null], 0.9).cells).toEqual([
      ['m', null],
      [null, null],
    ])
    expect(toObservedFace(read, ['m', 'k'], 0.6).cells).toEqual([
      ['m', 'k'],
      ['m', null],
    ])
    const hand = new Map([
      [0, null],
      [3, 'm'],
    ] as const)
    expect(toObservedFace(read, ['m', null], 0.9, hand).cells).toEqual([
      [null, null],
      [null, 'm'],
    ])
    expect(() => toObservedFace(read, ['m'], 0.9)).toThrow(RangeError)
  })
})

describe('nameColours(found, known)', () => {
  test('gives the keys of the draft to the nearest, and none to a dull one that is left over', () => {
    const found = ['#dcd2bb', '#8f4434', '#1c1a18'].map(labOfHex)
    expect(nameColours(found, COLOURS)).toEqual([
      { key: 'w', name: 'undyed' },
      { key: 'm', name: 'madder' },
      { key: null, name: 'black' },
    ])
  })

  test('without a draft gives plain words, no key twice', () => {
    const named = nameColours(['#33557f', '#2f4a6b', '#2b2622'].map(labOfHex), {})
    expect(named.map(({ key }) => key)).toEqual(['b', 'l', 'a'])
  })
})

test('observedPicture(observed, colours, options) draws a strip for each run, a line where nothing is legible, a ring for a mark', () => {
  const options = { ground: '#fdfaf3', ink: '#2a2019', marked: [{ pick: 2, tablet: 1 }], title: 'Seen <here>' }
  const svg = observedPicture(
    {
      cells: [
        ['m', null],
        ['m', 'w'],
      ],
    },
    COLOURS,
    options,
  )
  expect(svg).toContain('<path fill="#9c3b2e" d="M0 0.5h20v9h-20z"/>')
  expect(svg).toContain('d="M1 15h8"')
  expect(svg).toContain('M9 5a6 6 0 1 1 12 0a6 6 0 1 1-12 0')
  expect(svg).toContain('Seen &lt;here&gt;')
  expect(() => observedPicture({ cells: [['q']] }, COLOURS, options)).toThrow(RangeError)
})
