import fc from 'fast-check'
import { expect, test } from 'vitest'
import { followTwist, startLiveTwist, twistExtents } from '../../shared/draft/edit/twist-extent.ts'
import { lanesOf } from '../../shared/draft/picture/twist-lane.ts'
import { arbitraryDraft } from '../draft/arbitrary-draft.ts'

test('twistExtents(tablets, turning, before) lays out the lanes that lanesOf gives', () => {
  fc.assert(
    fc.property(arbitraryDraft, fc.nat(30), ({ draft, turning, turns }, before) => {
      const extents = twistExtents(draft.tablets, turning, before)
      expect(extents.map(({ from, to, part, least, most }) => [from + 1, to + 1, part, least, most])).toEqual(
        lanesOf(draft, turning).map(({ from, to, part, least, most }) => [from, to, part, least, most]),
      )
      for (const { from, netBefore } of extents) {
        expect(netBefore).toBe(turns.slice(0, before).reduce((sum, row) => sum + row[from]!, 0))
      }
    }),
    { numRuns: 100 },
  )
  expect(() => twistExtents([], { tablets: 1, picks: 0, turns: new Int8Array(0) }, 0)).toThrow(RangeError)
})

test('followTwist(live, tablets, turning, before) gives what twistExtents gives, whatever turns changed since', () => {
  const edit = fc.record({ cells: fc.array(fc.nat(), { maxLength: 4 }), turn: fc.integer({ min: -2, max: 2 }) })
  const arbitrary = fc.tuple(arbitraryDraft, fc.integer({ min: 1, max: 20 }), fc.array(edit, { maxLength: 6 }))
  fc.assert(
    fc.property(arbitrary, fc.nat(200), ([{ draft, turning }, times, edits], before) => {
      const live = startLiveTwist()
      let { turns } = turning
      // Over several of the stretches in which it is summed.
      turns = Int8Array.from({ length: turns.length * times }, (_, cell) => turns[cell % turns.length]!)
      const whole = { ...turning, picks: turning.picks * times }
      for (const { cells, turn } of [{ cells: [], turn: 0 }, ...edits]) {
        turns = turns.slice()
        for (const cell of cells) turns[cell % turns.length] = turn
        const now = { ...whole, turns }
        expect(followTwist(live, draft.tablets, now, before)).toEqual(twistExtents(draft.tablets, now, before))
      }
      // Another draft in its place.
      expect(followTwist(live, draft.tablets, turning, before)).toEqual(twistExtents(draft.tablets, turning, before))
    }),
    { numRuns: 100 },
  )
})
