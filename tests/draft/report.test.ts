import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { reportDraft } from '../../shared/draft/report.ts'
import { arbitraryDraft, draftOf, makeTablet } from './arbitrary-draft.ts'
import { weaveByHand } from './corner-tablet.ts'

describe('reportDraft(draft)', () => {
  test('gives every field of the answer, counted from 1', () => {
    const { draft } = draftOf(
      [makeTablet(), makeTablet({ threading: 'Z', holes: ['w', null, 'm', 'm'], start: 'B' })],
      [
        [1, 0],
        [-1, 1],
        [1, -1],
        [-1, -2],
      ],
    )
    expect(reportDraft(draft)).toEqual({
      tablets: 2,
      picks: 4,
      face: [
        ['m', null],
        ['m', null],
        ['m', null],
        ['m', 'm'],
      ],
      reverse: [
        ['b2', null],
        ['b2', 'm'],
        ['b2', 'm'],
        ['b2', null],
      ],
      slant: ['/.', '\\\\', '//', '\\/'],
      net: [0, -2],
      twistNeutral: false,
      closesAfter: 2,
      floats: [
        { tablet: 1, hole: 'A', side: 'face', from: 1, to: 4, length: 4 },
        { tablet: 1, hole: 'C', side: 'reverse', from: 1, to: 4, length: 4 },
      ],
      longestFloat: { face: 4, reverse: 4 },
      reversals: [3, 1],
      packs: [[1], [2]],
      distinctPicks: 4,
      parity: false,
    })
  })

  test('shows the colours that tablets turned by hand show', () => {
    fc.assert(
      fc.property(arbitraryDraft, ({ draft, turns }) => {
        const report = reportDraft(draft)
        const byHand = weaveByHand(draft, turns)
        const colourAt = (tablet: number, hole: string | null) =>
          hole === null ? null : draft.tablets[tablet]!.holes['ABCD'.indexOf(hole)]
        for (const side of ['face', 'reverse'] as const) {
          expect(report[side]).toEqual(
            turns.map((_, pick) => byHand.map((seen, at) => colourAt(at, seen[pick]![side]))),
          )
        }
        expect(report.slant).toEqual(turns.map((_, pick) => byHand.map((seen) => seen[pick]!.slant).join('')))
      }),
    )
  })

  test('throws on picks that cannot be read', () => {
    const { draft } = draftOf([makeTablet()], [[1]])
    expect(() => reportDraft({ ...draft, picks: ['2F'] })).toThrow(RangeError)
  })
})
