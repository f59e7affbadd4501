import fc from 'fast-check'
import { expect, test } from 'vitest'
import { HOLES } from '../../shared/draft/draft.ts'
import { recover } from '../../shared/draft/recover.ts'
import { arbitraryDraft, draftOf, makeTablet } from './arbitrary-draft.ts'
import { turnByHand } from './corner-tablet.ts'

const four = makeTablet({ holes: ['m', 'w', 'b2', null] })

test('recover(draft, seen) tells each slip of a quarter turn apart and puts it right', () => {
  // From A, forward: the tablet stood at A, should stand at B with A at top-far, and shows A.
  const { draft } = draftOf([four], [[1], [1], [-1], [-1]])
  const at = (topNear: 'A' | 'B' | 'C' | 'D', topFar: 'A' | 'B' | 'C' | 'D') =>
    recover(draft, { pick: 1, tablet: 1, topNear, topFar })
  const expected = { topNear: 'B', topFar: 'A' }
  expect(at('B', 'A')).toEqual({
    ...{ expected, verdict: 'right', correction: 0, unweave: 0, rightFrom: 1 },
    face: { expected: 'm', woven: 'm' },
  })
  // Turned back it shows D, which is empty: the weft, madder, as A is. The fault is not seen on the face.
  expect(at('D', 'C')).toMatchObject({ verdict: 'turnedTheOtherWay', correction: 2, unweave: 0, rightFrom: 2 })
  expect(at('A', 'D')).toMatchObject({ verdict: 'turnMissed', correction: 1, face: { woven: null }, unweave: 1 })
  expect(at('C', 'B')).toMatchObject({ verdict: 'turnedTwice', correction: -1, face: { woven: 'w' }, unweave: 1 })
  expect(at('A', 'C')).toMatchObject({ verdict: 'impossible', correction: 0, expected })
  expect(recover(draft, { pick: 3, tablet: 1, topNear: 'D', topFar: 'C' })).toMatchObject({
    ...{ verdict: 'turnedTheOtherWay', correction: -2, unweave: 1, rightFrom: 4 },
  })
  expect(recover(draft, { pick: 3, tablet: 1, topNear: 'D', topFar: 'C', rightUntil: 0 })).toMatchObject({ unweave: 3 })
})

test('recover(draft, seen) finds the slip that was made, and its correction brings the tablet back, in any draft', () => {
  fc.assert(
    fc.property(
      arbitraryDraft,
      fc.nat(),
      fc.nat(),
      fc.constantFrom(-2, -1, 0, 1, 2),
      ({ draft, turns }, p, t, made) => {
        const pick = (p % turns.length) + 1
        const tablet = (t % draft.tablets.length) + 1
        const one = draft.tablets[tablet - 1]!
        const planned = turns.map((row) => row[tablet - 1]!)
        const slipped = [...planned.slice(0, pick - 1), made]
        const seen = turnByHand(one.threading, one.start, slipped)[pick - 1]!
        const topFar = HOLES[(HOLES.indexOf(seen.topNear) + 3) % 4]!
        const found = recover(draft, { pick, tablet, topNear: seen.topNear, topFar })
        const mended = turnByHand(one.threading, one.start, [...slipped, found.correction])[pick]!
        expect(mended.topNear).toBe(turnByHand(one.threading, one.start, planned)[pick - 1]!.topNear)
        expect(mended.topNear).toBe(found.expected.topNear)
        expect(found.verdict === 'right').toBe((made - planned[pick - 1]!) % 4 === 0)
        const quarter = Math.abs(planned[pick - 1]!) === 1
        if (quarter && made === -planned[pick - 1]!) expect(found.verdict).toBe('turnedTheOtherWay')
        if (quarter && made === 0) expect(found.verdict).toBe('turnMissed')
        if (quarter && made === 2 * planned[pick - 1]!) expect(found.verdict).toBe('turnedTwice')
        // Half a turn forward and half a turn back stand alike: what is on top cannot tell them apart.
        if (found.verdict === 'right') return
        // A tablet that never turns shows what it showed last, for ever.
        if (planned.every((turn) => turn === 0)) return
        // From the pick that it names on, the mended tablet shows the same colours as one that never slipped.
        const after = [...planned.slice(pick), ...planned]
        const colours = (list: number[]) =>
          turnByHand(one.threading, one.start, list).map(({ face }) =>
            face === null ? null : (one.holes[HOLES.indexOf(face)] ?? draft.weft),
          )
        const right = colours([...planned.slice(0, pick), ...after])
        const mending = colours([...slipped, found.correction, ...after])
        for (let at = Math.max(found.rightFrom, pick + 1); at <= right.length; at++)
          expect(mending[at]).toBe(right[at - 1])
      },
    ),
    { numRuns: 300 },
  )
})

test('recover(draft, seen) refuses what is not in the draft', () => {
  const { draft } = draftOf([four], [[1]])
  const seen = { pick: 1, tablet: 1, topNear: 'A', topFar: 'D' } as const
  expect(() => recover(draft, { ...seen, pick: 2 })).toThrow('pick must be a whole number from 1 to 1, not 2')
  expect(() => recover(draft, { ...seen, tablet: 0 })).toThrow(RangeError)
  expect(() => recover(draft, { ...seen, rightUntil: 1 })).toThrow('rightUntil')
})
