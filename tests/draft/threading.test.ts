import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { writeThreading } from '../../shared/draft/threading-text.ts'
import { mirrorTablets, readThreading } from '../../shared/draft/threading.ts'
import { arbitraryTablet, COLOURS, makeTablet } from './arbitrary-draft.ts'

function tabletsOf(text: string) {
  const read = readThreading(text, COLOURS)
  if (!read.ok) throw new Error(read.problems.map((problem) => problem.message).join(' '))
  return read.tablets
}

function problemsOf(text: string) {
  const read = readThreading(text, COLOURS)
  return read.ok ? [] : read.problems
}

describe('readThreading(text, colours)', () => {
  test.each([
    ['S m m w b2', makeTablet({ holes: ['m', 'm', 'w', 'b2'] })],
    ['z M - w, -', makeTablet({ threading: 'Z', holes: ['m', null, 'w', null] })],
    ['S m w b2 m from c', makeTablet({ start: 'C' })],
    ['1: S m w b2 m border from D # edge', makeTablet({ start: 'D', part: 'border' })],
    ['S m w b2 m pattern', makeTablet()],
  ])('takes %j', (line, tablet) => {
    expect(tabletsOf(line)).toEqual([tablet])
  })

  test('takes a range for equal tablets and counts on from it', () => {
    const tablets = tabletsOf('1-2: S m m m m border\n3: Z m m w w\n4–5: S m w b2 m')
    expect(tablets.map(({ threading }) => threading).join('')).toBe('SSZSS')
    expect(tablets[1]).toEqual(tablets[0])
  })

  test('takes a mirror of all tablets so far, or of some', () => {
    const half = tabletsOf('S m m m m border\nZ m m w w')
    const whole = tabletsOf('S m m m m border\nZ m m w w\n3-4: mirror')
    expect(whole).toEqual([...half, ...mirrorTablets(half)])
    expect(tabletsOf('S m m m m border\nZ m m w w\nS w w w w\nmirror 1-2').map(({ threading }) => threading)).toEqual([
      'S',
      'Z',
      'S',
      'S',
      'Z',
    ])
  })

  test.each([
    ['X m m w w', 1, 1, '“x” is not S or Z; a line is S or Z and the colours of holes A, B, C, D, as in “S m m w w”.'],
    [
      '1:',
      1,
      3,
      'An empty line is not S or Z; a line is S or Z and the colours of holes A, B, C, D, as in “S m m w w”.',
    ],
    ['\n S m m x w', 2, 8, 'Hole C: no colour has the key “x”; “-” is an empty hole.'],
    ['S m m constructor w', 1, 7, 'Hole C: no colour has the key “constructor”; “-” is an empty hole.'],
    ['S m m w', 1, 8, '3 of 4 holes found; a line is S or Z and the colours of holes A, B, C, D, as in “S m m w w”.'],
    ['S m m w w w', 1, 11, '“w” cannot be read; after the holes may stand “from C” and “border”.'],
    ['S m m w w from E', 1, 16, 'After “from” stands the hole at top-near: A, B, C or D.'],
    ['S m m w w from', 1, 11, 'After “from” stands the hole at top-near: A, B, C or D.'],
    ['2: S m m w w', 1, 1, 'This line is numbered 2, but it is tablet 1.'],
    ['S m m w w\n2-4: mirror', 2, 1, '2-4 is 3 tablets, but the line stands for 1.'],
    ['mirror', 1, 1, 'Only tablets that stand before this line can be mirrored, here 1 to 0.'],
    ['S m m w w\nmirror 1-2', 2, 1, 'Only tablets that stand before this line can be mirrored, here 1 to 1.'],
    ['S m m w w\nmirror 1 2', 2, 1, 'A mirror is written “mirror” for all tablets so far, or “mirror 1-12”.'],
    ['1-401: S m m w w', 1, 8, 'This line brings the draft to 401 tablets; at most 400 fit.'],
    ['', 1, 1, 'No tablet found; a line is S or Z and the colours of holes A, B, C, D, as in “S m m w w”.'],
  ])('refuses %j at line %i, character %i', (text, line, column, message) => {
    expect(problemsOf(text)).toEqual([{ line, column, message }])
  })

  test('lists the problems of all lines, fifty at most', () => {
    expect(problemsOf('S m m x w\nZ m m w w\nQ').map(({ line }) => line)).toEqual([1, 3])
    expect(problemsOf('Q\n'.repeat(300))).toHaveLength(50)
  })
})

describe('writeThreading(tablets)', () => {
  test('is undone by readThreading', () => {
    const runs = fc.array(fc.tuple(arbitraryTablet, fc.integer({ min: 1, max: 4 })), { minLength: 1, maxLength: 8 })
    fc.assert(
      fc.property(runs, (some) => {
        const tablets = some.flatMap(([tablet, times]) => new Array<typeof tablet>(times).fill(tablet))
        expect(tabletsOf(writeThreading(tablets))).toEqual(tablets)
      }),
    )
  })

  test('folds equal neighbours into ranges', () => {
    const edge = makeTablet({ part: 'border', holes: ['m', 'm', 'm', 'm'] })
    const inner = makeTablet({ threading: 'Z', start: 'C', holes: ['m', null, 'w', 'w'] })
    expect(writeThreading([edge, edge, inner, edge])).toBe(
      '1-2: S m m m m border\n3: Z m - w w from C\n4: S m m m m border',
    )
    expect(writeThreading([])).toBe('')
  })
})
