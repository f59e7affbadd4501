import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type Draft, HOLES } from '../../shared/draft/draft.ts'
import { type Float, listFloats, longestFloat } from '../../shared/draft/floats.ts'
import { weave } from '../../shared/draft/weave.ts'
import { arbitraryDraft, draftOf, makeTablet } from './arbitrary-draft.ts'
import { weaveByHand } from './corner-tablet.ts'

/** Floats of one tablet that starts at A. */
function floatsOf(turns: number[], longerThan: number, overSeam = false): Float[] {
  const { draft, turning } = draftOf(
    [makeTablet()],
    turns.map((turn) => [turn]),
  )
  return listFloats(draft, weave(draft, turning), longerThan, { overSeam })
}

/** Looks at each thread of tablets turned by hand, pick by pick. */
function floatsByHand(draft: Draft, turns: number[][]): Float[] {
  const floats: Float[] = []
  weaveByHand(draft, turns).forEach((picks, tablet) => {
    HOLES.forEach((hole, at) => {
      if (draft.tablets[tablet]!.holes[at] === null) return
      let from = 0
      picks.forEach((pick, to) => {
        const isUp = pick.up.includes(hole)
        if (to + 1 < picks.length && picks[to + 1]!.up.includes(hole) === isUp) return
        const side = isUp ? 'face' : 'reverse'
        floats.push({ tablet: tablet + 1, hole, side, from: from + 1, to: to + 1, length: to + 1 - from })
        from = to + 1
      })
    })
  })
  return floats.sort((a, b) => a.tablet - b.tablet || a.from - b.from || a.hole.localeCompare(b.hole))
}

describe('listFloats(draft, woven, longerThan)', () => {
  test('finds 2 in steady turning, 3 at a reversal, 1 at half turns', () => {
    expect(Math.max(...floatsOf([1, 1, 1, 1, 1, 1], 0).map(({ length }) => length))).toBe(2)
    expect(Math.max(...floatsOf([1, 1, 1, -1, -1, -1], 0).map(({ length }) => length))).toBe(3)
    expect(Math.max(...floatsOf([2, 2, -2, 2], 0).map(({ length }) => length))).toBe(1)
  })

  test('finds the long floats of alternating turns, on both sides', () => {
    expect(floatsOf([1, -1, 1, -1, 1], 3)).toEqual([
      { tablet: 1, hole: 'A', side: 'face', from: 1, to: 5, length: 5 },
      { tablet: 1, hole: 'C', side: 'reverse', from: 1, to: 5, length: 5 },
    ])
  })

  test('skips empty holes', () => {
    const { draft, turning } = draftOf([makeTablet({ holes: [null, 'm', 'w', null] })], [[1], [-1], [1], [-1]])
    expect(listFloats(draft, weave(draft, turning), 3).map(({ hole }) => hole)).toEqual(['C'])
  })

  test('agrees with threads watched by hand', () => {
    fc.assert(
      fc.property(arbitraryDraft, ({ draft, turning, turns }) => {
        const woven = weave(draft, turning)
        const byHand = floatsByHand(draft, turns)
        expect(listFloats(draft, woven, 0)).toEqual(byHand)
        const onSide = (side: string) => byHand.filter((float) => float.side === side).map(({ length }) => length)
        expect(longestFloat(draft, woven)).toEqual({
          face: Math.max(0, ...onSide('face')),
          reverse: Math.max(0, ...onSide('reverse')),
        })
      }),
    )
  })

  test('over the seam agrees with nine repeats woven on end by hand', () => {
    fc.assert(
      fc.property(arbitraryDraft, ({ draft, turning, turns }) => {
        const picks = turns.length
        const many = floatsByHand(draft, new Array<number[][]>(9).fill(turns).flat())
        // The fifth repeat begins where the first did; what begins there is over before the ninth ends.
        const expected = many
          .filter(({ from }) => from > 4 * picks && from <= 5 * picks)
          .map((float) => ({ ...float, from: float.from - 4 * picks, to: float.to - 4 * picks }))
        const endless = many
          .filter(({ length }) => length === 9 * picks)
          .map((float) => ({ ...float, to: Infinity, length: Infinity }))
        const sorted = [...expected, ...endless].sort(
          (a, b) => a.tablet - b.tablet || a.from - b.from || a.hole.localeCompare(b.hole),
        )
        expect(listFloats(draft, weave(draft, turning), 0, { overSeam: true })).toEqual(sorted)
      }),
    )
  })

  test('within the repeat cuts a float at the seam; over the seam gives it whole', () => {
    const turns = [-1, 1, 1, 1, 1, -1, 1]
    expect(floatsOf(turns, 4)).toEqual([])
    expect(floatsOf(turns, 4, true).map(({ from, to, length }) => [from, to, length])).toEqual([
      [4, 9, 6],
      [4, 9, 6],
    ])
  })

  test('over the seam calls a thread that never changes side endless', () => {
    expect(floatsOf([0, 0], 3, true).map(({ hole, length }) => [hole, length])).toEqual(
      ['A', 'B', 'C', 'D'].map((hole) => [hole, Infinity]),
    )
  })

  test.each([-1, 0.5, Number.NaN])('throws on longerThan %d', (longerThan) => {
    expect(() => floatsOf([1], longerThan)).toThrow('longerThan')
  })

  test('throws when the draft has other tablets', () => {
    const { draft, turning } = draftOf([makeTablet()], [[1]])
    const two = { ...draft, tablets: [makeTablet(), makeTablet()] }
    expect(() => listFloats(two, weave(draft, turning), 3)).toThrow(RangeError)
  })
})
