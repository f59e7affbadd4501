import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import {
  ANSWERS,
  type ConventionCard,
  NOTHING_STATED,
  OUR_FRAME,
  QUESTIONS,
} from '../../../shared/draft/convention/card.ts'
import { fromFrame, toFrame } from '../../../shared/draft/convention/convert.ts'
import { canonicalDraft, readDraft } from '../../../shared/draft/document.ts'
import type { Draft } from '../../../shared/draft/draft.ts'
import { turningOf } from '../../../shared/draft/turning.ts'
import { arbitraryDraft, COLOURS, makeTablet } from '../arbitrary-draft.ts'
import { weaveByHand } from '../corner-tablet.ts'
import { type Cloth, weaveInSpace } from './loom.ts'

/** Every combination of answers, 3 x 3 x 3 x 5 x 3 x 5 x 3 x 3. */
function listCards(): ConventionCard[] {
  let cards: Record<string, string>[] = [{}]
  for (const question of QUESTIONS) {
    cards = cards.flatMap((card) => ANSWERS[question].map((answer) => ({ ...card, [question]: answer })))
  }
  return cards as unknown as ConventionCard[]
}

/** Small enough that 18,225 of them take a second or two. */
const smallDraft = arbitraryDraft.filter(({ turning }) => turning.turns.length <= 30 && turning.tablets > 1)

/** Our frame's cloth by the tablets that are turned corner by corner. */
function clothOf(draft: Draft): Cloth {
  const turning = turningOf(draft)
  const rows = Array.from({ length: turning.picks }, (_, pick) => [
    ...turning.turns.subarray(pick * turning.tablets, (pick + 1) * turning.tablets),
  ])
  const colourOf = (at: number, hole: string | null) =>
    hole === null ? null : draft.tablets[at]!.holes['ABCD'.indexOf(hole)]!
  return weaveByHand(draft, rows).map((picks, at) =>
    picks.map(({ face, reverse, slant }) => ({ face: colourOf(at, face), reverse: colourOf(at, reverse), slant })),
  )
}

const small: Draft = {
  ...{ title: 'Worked', colours: COLOURS, weft: 'm' },
  tablets: [
    makeTablet({ threading: 'S', holes: ['m', 'w', 'b2', null], start: 'B', part: 'border' }),
    makeTablet({ threading: 'Z', holes: ['w', 'm', 'm', 'b2'], start: 'A' }),
    makeTablet({ threading: 'S', holes: ['b2', 'b2', 'w', 'm'], start: 'D' }),
  ],
  picks: ['2F 1B', '1I 2F', '1(2B) 1F 1B', '3B'],
}

describe('toFrame(draft, card) and fromFrame(draft, card)', () => {
  const cards = listCards()

  it('are each other’s opposite for every one of the 18,225 cards, and no conversion is refused', () => {
    expect(cards).toHaveLength(18_225)
    const canonical = fc.sample(smallDraft, { numRuns: 60, seed: 7 }).map(({ draft }) => canonicalDraft(draft))
    cards.forEach((card, at) => {
      const draft = canonical[at % canonical.length]!
      const ours = toFrame(draft, card)
      // As text, which is quicker by far than looking deep into 18,225 pairs.
      expect(JSON.stringify(fromFrame(ours, card))).toBe(JSON.stringify(draft))
      expect(JSON.stringify(toFrame(fromFrame(draft, card), card))).toBe(JSON.stringify(draft))
      if (at % 97 === 0) expect(readDraft(ours).ok).toBe(true)
    })
  })

  it('weave, for every card, the cloth of a loom that is set up in space as the card says', () => {
    const drafts = fc.sample(smallDraft, { numRuns: 40, seed: 11 }).map(({ draft }) => draft)
    cards.forEach((card, at) => {
      const draft = drafts[at % drafts.length]!
      const woven = JSON.stringify(clothOf(toFrame(draft, card)))
      if (woven !== JSON.stringify(weaveInSpace(draft, card))) expect.fail(JSON.stringify({ card, draft }))
    })
  })

  it('weave the cloth of that loom for any draft and card', () => {
    fc.assert(
      fc.property(arbitraryDraft, fc.constantFrom(...cards), ({ draft }, card) => {
        expect(clothOf(toFrame(draft, card))).toEqual(weaveInSpace(draft, card))
      }),
      { numRuns: 300 },
    )
  })

  it('change nothing by the card of our frame, nor by one that states nothing', () => {
    expect(toFrame(small, OUR_FRAME)).toEqual(canonicalDraft(small))
    expect(fromFrame(small, OUR_FRAME)).toEqual(canonicalDraft(small))
    expect(toFrame(small, NOTHING_STATED)).toEqual(canonicalDraft(small))
  })

  const [one, two, three] = small.tablets
  // Worked by hand, with a square of card and four pins.
  test.each<[string, Partial<ConventionCard>, Partial<Draft>]>([
    [
      'forward towards the reader: F and B change places',
      { forward: 'towards' },
      { picks: ['2B 1F', '1I 2B', '1(2F) 1B 1F', '3F'] },
    ],
    [
      'rows upward: the foot of the page is pick 1',
      { rows: 'upward' },
      { picks: ['3B', '1(2B) 1F 1B', '1I 2F', '2F 1B'] },
    ],
    [
      'tablet 1 at the right: another order, each tablet as it was',
      { count: 'right' },
      { tablets: [three!, two!, one!], picks: ['1B 2F', '2F 1I', '1B 1F 1(2B)', '3B'] },
    ],
    [
      'S and Z of the tablet: both change over',
      { slant: 'tablet' },
      {
        tablets: [
          { ...one!, threading: 'Z' },
          { ...two!, threading: 'S' },
          { ...three!, threading: 'Z' },
        ],
      },
    ],
    [
      'clockwise seen from the right: B and D change places, in holes and start',
      { sense: 'clockwise' },
      {
        tablets: [
          { ...one!, holes: ['m', null, 'b2', 'w'], start: 'D' },
          { ...two!, holes: ['w', 'b2', 'm', 'm'] },
          { ...three!, holes: ['b2', 'm', 'w', 'b2'], start: 'B' },
        ],
      },
    ],
    [
      'A at top-far, where our D is: A, B, C, D are our D, A, B, C',
      { first: 'topFar' },
      {
        tablets: [
          { ...one!, holes: ['w', 'b2', null, 'm'] },
          { ...two!, holes: ['m', 'm', 'b2', 'w'] },
          { ...three!, holes: ['b2', 'w', 'm', 'b2'] },
        ],
      },
    ],
    [
      'read from the bare warp: order and turns change, and A at its top-near is our D with the letters running back',
      { end: 'warp' },
      {
        tablets: [
          { ...three!, holes: ['m', 'w', 'b2', 'b2'], start: 'B' },
          { ...two!, holes: ['b2', 'm', 'm', 'w'], start: 'A' },
          { ...one!, holes: [null, 'b2', 'w', 'm'], start: 'D' },
        ],
        picks: ['1F 2B', '2B 1I', '1F 1B 1(2F)', '3F'],
      },
    ],
  ])('%s', (_, answers, changes) => {
    const converted = toFrame(small, { ...OUR_FRAME, ...answers })
    expect(converted).toEqual({ ...canonicalDraft(small), ...changes })
  })

  it('undo what cancels out: clockwise letters on the left face are our letters', () => {
    expect(toFrame(small, { ...OUR_FRAME, face: 'left', sense: 'clockwise' })).toEqual(canonicalDraft(small))
  })

  it('letter S and Z tablets in opposite senses where the lettered face goes with the thread', () => {
    const { tablets } = toFrame(small, { ...OUR_FRAME, face: 'threadTowards' })
    expect(tablets[0]).toEqual(one)
    expect(tablets[1]!.holes).toEqual(['w', 'b2', 'm', 'm'])
  })
})
