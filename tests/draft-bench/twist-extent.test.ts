import fc from 'fast-check'
import { expect, test } from 'vitest'
import { twistExtents } from '../../shared/draft/edit/twist-extent.ts'
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
