import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { OUR_FRAME } from '../../../shared/draft/convention/card.ts'
import { mirrorDraft } from '../../../shared/draft/card/mirror-draft.ts'
import { threadingCard } from '../../../shared/draft/card/threading-card.ts'
import { turningCards } from '../../../shared/draft/card/turning-cards.ts'
import { canonicalDraft } from '../../../shared/draft/document.ts'
import { turningOf } from '../../../shared/draft/turning.ts'
import { STEP } from '../../draft-page/sample.ts'
import { arbitraryDraft, draftOf, makeTablet } from '../arbitrary-draft.ts'
import { weaveByHand } from '../corner-tablet.ts'

const rowsOf = (draft: typeof STEP) => {
  const { tablets, picks, turns } = turningOf(draft)
  return Array.from({ length: picks }, (_, pick) => [...turns.subarray(pick * tablets, (pick + 1) * tablets)])
}

describe('turningCards(draft, options)', () => {
  const all = { card: OUR_FRAME, from: 1, to: 12, picksPerCard: 6 }

  it('puts equal picks in one row, counts their runs and writes them out by tablet', () => {
    expect(turningCards(STEP, all)).toEqual([
      {
        ...{ from: 1, to: 6 },
        rows: [
          { picks: [1, 2, 3, 4], runs: ['6F'], places: ['all forward'] },
          { picks: [5, 6], runs: ['1F', '4B', '1F'], places: ['1 forward', '2 to 5 back', '6 forward'] },
        ],
      },
      {
        ...{ from: 7, to: 12 },
        rows: [
          { picks: [7, 8, 9, 10], runs: ['6B'], places: ['all back'] },
          { picks: [11, 12], runs: ['1B', '4F', '1B'], places: ['1 back', '2 to 5 forward', '6 back'] },
        ],
      },
    ])
  })

  it('says idle and half turns, pairs, and tablets by themselves', () => {
    const { draft } = draftOf([makeTablet(), makeTablet(), makeTablet(), makeTablet()], [[0, 0, 2, -2]])
    const [card] = turningCards(draft, { ...all, to: 1 })
    expect(card!.rows[0]!.places).toEqual(['1, 2 idle', '3 half forward', '4 half back'])
  })

  it('keeps the number of every pick where rows read upward, and begins at the foot', () => {
    const [first] = turningCards(STEP, { ...all, card: { ...OUR_FRAME, rows: 'upward' } })
    expect(first!.rows.map(({ picks }) => picks)).toEqual([
      [6, 5],
      [4, 3, 2, 1],
    ])
    expect(first!.rows.at(-1)!.runs).toEqual(['6F'])
  })

  it('holds every pick once, in order, and never more than four in a row, for any draft', () => {
    fc.assert(
      fc.property(arbitraryDraft, fc.integer({ min: 1, max: 9 }), ({ draft }, picksPerCard) => {
        const cards = turningCards(draft, { card: OUR_FRAME, from: 1, to: draft.picks.length, picksPerCard })
        const rows = cards.flatMap((card) => card.rows)
        expect(rows.flatMap(({ picks }) => picks)).toEqual(draft.picks.map((_, at) => at + 1))
        expect(rows.flatMap(({ picks, runs }) => picks.map(() => runs.join(' ')))).toEqual(canonicalDraft(draft).picks)
        expect(Math.max(...rows.map(({ picks }) => picks.length))).toBeLessThanOrEqual(4)
      }),
      { numRuns: 60 },
    )
  })

  it('goes on counting where a part of a draft is given', () => {
    const part = { ...STEP, picks: STEP.picks.slice(4, 6) }
    const [card] = turningCards(part, { ...all, to: 2, before: 4 })
    expect(card).toMatchObject({ from: 5, to: 6, rows: [{ picks: [5, 6], runs: ['1F', '4B', '1F'] }] })
  })

  it('refuses picks that are not there', () => {
    expect(() => turningCards(STEP, { ...all, to: 13 })).toThrow(RangeError)
    expect(() => turningCards(STEP, { ...all, from: 0 })).toThrow(RangeError)
    expect(() => turningCards(STEP, { ...all, picksPerCard: 0 })).toThrow(RangeError)
  })
})

describe('threadingCard(draft, card)', () => {
  it('counts, names and letters as the reader does', () => {
    const card = { ...OUR_FRAME, count: 'right', slant: 'tablet', sense: 'clockwise' } as const
    const [first] = threadingCard(STEP, card)
    expect(first).toMatchObject({ number: 1, threading: 'S', part: 'border' })
    const third = threadingCard(STEP, card)[2]!
    // Our tablet 4: Z, m m w w from B. Letters run the other way round, so B and D change places.
    expect(third).toMatchObject({ number: 3, threading: 'S', holes: ['m', 'w', 'w', 'm'] })
  })

  it('shows a reader at the bare warp the far holes near, and the same slant', () => {
    const theirs = threadingCard(STEP, { ...OUR_FRAME, end: 'warp' })
    // Tablet 2 of STEP stands m m near, w w far; from the other end undyed is near, which is drawn at the left.
    const lefts = [...theirs[4]!.drawing.matchAll(/<circle cx="(\d+)" [^>]*fill="(#[^"]+)"/g)].map(
      ([, x, hex]) => `${x} ${hex}`,
    )
    expect(lefts).toEqual(['4 #e9dfc8', '4 #e9dfc8', '12 #9c3b2e', '12 #9c3b2e'])
  })
})

describe('mirrorDraft(draft)', () => {
  it('weaves the mirror image, slants too, and twice is the draft again', () => {
    fc.assert(
      fc.property(arbitraryDraft, ({ draft }) => {
        const mirrored = mirrorDraft(draft)
        expect(mirrorDraft(mirrored)).toEqual(canonicalDraft(draft))
        const [one, other] = [weaveByHand(draft, rowsOf(draft)), weaveByHand(mirrored, rowsOf(mirrored))]
        const turned = other.toReversed().map((tablet) =>
          tablet.map(({ slant, ...pick }) => ({
            ...pick,
            slant: slant === '/' ? '\\' : slant === '\\' ? '/' : slant,
          })),
        )
        expect(turned).toEqual(one)
      }),
      { numRuns: 60 },
    )
  })
})
