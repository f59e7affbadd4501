import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { countLegible, type ObservedFace, sizeOfObserved } from '../../../shared/draft/infer/observed.ts'
import { readObserved, writeObserved } from '../../../shared/draft/infer/observed-text.ts'
import { COLOURS } from '../arbitrary-draft.ts'

const observedOf = (tablets: number): fc.Arbitrary<ObservedFace> => {
  const row = <T>(one: fc.Arbitrary<T>) => fc.array(one, { minLength: tablets, maxLength: tablets })
  const cell = row(fc.constantFrom('m', 'w', 'b2', null))
  const slant = row(fc.constantFrom('/' as const, '\\' as const, null))
  return fc
    .array(fc.tuple(cell, slant), { minLength: 1, maxLength: 8 })
    .map((rows) => ({ cells: rows.map(([cells]) => cells), slants: rows.map(([, slants]) => slants) }))
}

describe('readObserved(text, colours)', () => {
  test('takes back what writeObserved(observed) wrote', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 7 }).chain(observedOf), (observed) => {
        const read = readObserved(writeObserved(observed), COLOURS)
        const anySlant = observed.slants!.flat().some((slant) => slant !== null)
        expect(read).toEqual({ ok: true, observed: anySlant ? observed : { cells: observed.cells } })
      }),
    )
  })

  test('takes capitals, comments, pick numbers, ranges and Windows line ends', () => {
    const read = readObserved('# a band\r\n1-2: M . W/ # two alike\r\n3: .\\ m  m\r\n\r\n', COLOURS)
    expect(read).toEqual({
      ok: true,
      observed: {
        cells: [
          ['m', null, 'w'],
          ['m', null, 'w'],
          [null, 'm', 'm'],
        ],
        slants: [
          [null, null, '/'],
          [null, null, '/'],
          ['\\', null, null],
        ],
      },
    })
  })

  test.each([
    ['m w\nm', 2, 2, 'Pick 2: 1 tablet found, 2 needed.'],
    ['m w\nm w w', 2, 6, 'Pick 2: 3 tablets found, 2 needed.'],
    ['m q', 1, 3, 'Pick 1: “q”: no colour has this key.'],
    ['m /', 1, 3, 'Pick 1: “/”: before a slant stands a colour key, or “.” where the colour is not legible.'],
    ['2: m', 1, 1, 'This line is numbered 2, but it is pick 1.'],
    [
      'm ?',
      1,
      3,
      'Pick 1: “?”: A colour key is 1 to 8 of a-z and 0-9. “.” is not legible; “/” or “\\” after it is the slant.',
    ],
    ['', 1, 1, 'No pick found; a line is one word a tablet, as in “m w . m/”.'],
  ])('points at what cannot be read in %j', (text, line, column, message) => {
    expect(readObserved(text, COLOURS)).toEqual({ ok: false, problems: [{ line, column, message }] })
  })

  test('refuses more picks and more tablets than a draft may have, without building them', () => {
    expect(readObserved('1-20001: m')).toMatchObject({ ok: false, problems: [{ line: 1 }] })
    expect(readObserved(Array(401).fill('m').join(' '))).toMatchObject({
      ok: false,
      problems: [{ message: 'Pick 1: 401 tablets found, at most 400 are read.' }],
    })
  })
})

test('sizeOfObserved(observed) refuses a ragged face by its row', () => {
  expect(sizeOfObserved({ cells: [['m', null]] })).toEqual({ tablets: 2, picks: 1 })
  expect(() => sizeOfObserved({ cells: [['m'], ['m', 'w']] })).toThrow('observed.cells[1] must have 1 tablets, got 2')
  expect(() => sizeOfObserved({ cells: [['m']], slants: [] })).toThrow('observed.slants must have 1 picks, got 0')
  expect(() => sizeOfObserved({ cells: [] })).toThrow(RangeError)
})

test('countLegible(observed) counts cells and slants', () => {
  expect(countLegible({ cells: [['m', null]], slants: [['/', '\\']] })).toEqual({ cells: 2, legible: 1, slants: 2 })
})
