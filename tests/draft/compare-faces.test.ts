import fc from 'fast-check'
import { expect, test } from 'vitest'
import { compareFaces, faceGrid } from '../../shared/draft/compare-faces.ts'
import { draftOf, makeTablet } from './arbitrary-draft.ts'

test('compareFaces(a, b) counts, shifts and mirrors as counted by hand', () => {
  expect(compareFaces([['m'], ['w'], ['w']], [['w'], ['w']])).toEqual({
    ...{ cells: 2, equal: 2, agreement: 1, shift: 1, mirrored: false },
    ...{ differing: [], differingLeftOut: 0, triedUpTo: 2 },
  })
  const a = [
    ['m', 'm', 'w'],
    ['m', 'w', null],
  ]
  const mirrored = compareFaces(a, [
    ['w', 'm', 'm'],
    ['b', 'm', 'm'],
  ])
  expect(mirrored).toMatchObject({ mirrored: true, shift: 0, cells: 5, equal: 4, agreement: 0.8 })
  expect(mirrored.differing).toEqual([{ pick: 2, tablet: 2, a: 'w', b: 'm' }])
  expect(compareFaces([[null]], [['m']])).toMatchObject({ cells: 0, agreement: 0, shift: 0 })
  expect(() => compareFaces([['m'], []], [['m']])).toThrow('a[1] must have 1 tablets, got 0')
})

test('compareFaces(a, b) finds again a stretch that was cut out of a face, moved, mirrored or both', () => {
  const cell = fc.constantFrom('m', 'w', 'b', 'k', 'y', null)
  const face = fc.array(fc.array(cell, { minLength: 6, maxLength: 6 }), { minLength: 14, maxLength: 20 })
  fc.assert(
    fc.property(face, fc.integer({ min: 0, max: 6 }), fc.boolean(), (a, from, mirror) => {
      const cut = a.slice(from, from + 8).map((row) => (mirror ? row.toReversed() : row))
      const legible = cut.flat().filter((one) => one !== null).length
      const found = compareFaces(a, cut)
      expect(found.equal).toBe(legible)
      const back = compareFaces(cut, a)
      expect([back.equal, back.shift + found.shift]).toEqual([found.equal, 0])
    }),
    { numRuns: 100 },
  )
})

test('faceGrid(draft) shows the weft where a hole is empty, and nothing before the first turn', () => {
  const { draft } = draftOf([makeTablet({ holes: [null, 'w', 'w', 'w'] })], [[0], [1], [1]])
  expect(faceGrid(draft)).toEqual([[null], ['m'], ['w']])
})
