import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { HOLES } from '../../shared/draft/draft.ts'
import { chooseFlips } from '../../shared/draft/tell/flip-choice.ts'
import { flipThreading, offerNeutral, turnBlocks } from '../../shared/draft/tell/neutral-offer.ts'
import { shortestBlocks } from '../../shared/draft/tell/turned-block.ts'
import { isTwistNeutral } from '../../shared/draft/twist.ts'
import { colourGrid, weave } from '../../shared/draft/weave.ts'
import { arbitraryDraft, draftOf, makeTablet } from '../draft/arbitrary-draft.ts'
import { turnByHand } from '../draft/corner-tablet.ts'

const one = (...turns: number[]) =>
  draftOf(
    [makeTablet()],
    turns.map((turn) => [turn]),
  )

describe('offerNeutral(draft, turning)', () => {
  test('of a neutral draft offers nothing', () => {
    const { draft, turning } = one(1, 1, -1, -1)
    expect(offerNeutral(draft, turning)).toEqual({ neutral: true, balance: 0, offers: [] })
  })

  test('of four picks forward offers the last two the other way, and says what that does to the cloth', () => {
    const { draft, turning } = one(1, 1, 1, 1)
    const { balance, offers } = offerNeutral(draft, turning)
    expect(balance).toBe(4)
    expect(offers.map(({ kind }) => kind)).toEqual(['block', 'everySecond'])
    // m w b2 m: forward A B C D, then with the block A B B A; the last two stitches lean the other way.
    expect(offers[0]).toEqual({
      kind: 'block',
      blocks: [{ tablets: [1], from: 3, to: 4 }],
      effect: {
        ...{ cells: 4, colours: 1, slants: 2, closesAfter: 1 },
        ...{ floatBefore: { face: 2, reverse: 2 }, floatAfter: { face: 3, reverse: 3 } },
      },
    })
    expect(offers[1]).toMatchObject({ kind: 'everySecond', tablets: [1], effect: { cells: 8, slants: 4 } })
  })

  test('offers only what really is neutral when it is woven, and counts every cell that changes', () => {
    const kinds = new Set<string>()
    fc.assert(
      fc.property(arbitraryDraft, ({ draft, turning, turns }) => {
        const { offers, neutral } = offerNeutral(draft, turning)
        expect(neutral).toBe(isTwistNeutral(weave(draft, turning)))
        for (const offer of offers) {
          kinds.add(offer.kind)
          const twice = draftOf(draft.tablets, [...turns, ...turns])
          const [before, after] =
            offer.kind === 'everySecond'
              ? [
                  twice,
                  draftOf(draft.tablets, [
                    ...turns,
                    ...turns.map((pick) => pick.map((turn, at) => (offer.tablets.includes(at + 1) ? 0 - turn : turn))),
                  ]),
                ]
              : [
                  { draft, turning },
                  offer.kind === 'block'
                    ? { draft, turning: turnBlocks(turning, offer.blocks) }
                    : { draft: flipThreading(draft, offer.tablets), turning },
                ]
          const cloth = [before, after].map(({ draft, turning }) => weave(draft, turning))
          const grids = [before, after].map(({ draft }, at) => colourGrid(draft, cloth[at]!, 'face').flat())
          expect(offer.effect.colours).toBe(grids[0]!.filter((colour, cell) => colour !== grids[1]![cell]).length)
          expect(offer.effect.cells).toBe(grids[0]!.length)
          if (offer.kind !== 'flip') expect(isTwistNeutral(cloth[1]!)).toBe(true)
          // A tablet threaded the other way keeps its colours, and every stitch of it leans the other way.
          else expect([offer.effect.colours, isTwistNeutral(cloth[1]!)]).toEqual([0, false])
        }
      }),
      { numRuns: 120 },
    )
    expect([...kinds].sort()).toEqual(['block', 'everySecond', 'flip'])
  })
})

test('shortestBlocks(turning, packs) is as short as trying every block finds, together and each for itself', () => {
  const column = fc.array(fc.constantFrom(1, 1, 1, -1), { minLength: 1, maxLength: 9 })
  fc.assert(
    fc.property(column, (turns) => {
      const { turning } = one(...turns)
      const net = turns.reduce((sum, turn) => sum + turn, 0)
      fc.pre(net !== 0)
      const lengths: number[] = []
      for (let from = 0; from < turns.length; from++) {
        for (let to = from + 1; to <= turns.length; to++) {
          if (2 * turns.slice(from, to).reduce((sum, turn) => sum + turn, 0) === net) lengths.push(to - from)
        }
      }
      const [found] = shortestBlocks(turning, [[1]])
      expect(found && found[0]!.to - found[0]!.from + 1).toBe(lengths.sort((a, b) => a - b)[0])
    }),
    { numRuns: 100 },
  )
  const { turning } = draftOf(
    [makeTablet(), makeTablet(), makeTablet()],
    [...[[1, 1, 1]], ...[[1, 1, 1]], ...[[1, 1, 1]], ...[[1, 1, 1]], ...[[1, 1, -1]], ...[[1, 1, -1]]],
  )
  // Tablets 1 and 2 have net 6, tablet 3 net 2: together picks 2 to 4 or 3 to 5 (sum 3 and 1).
  expect(shortestBlocks(turning, [[1, 2], [3]])).toEqual([
    [{ tablets: [1, 2, 3], from: 3, to: 5 }],
    [
      { tablets: [1, 2], from: 4, to: 6 },
      { tablets: [3], from: 4, to: 4 },
    ],
  ])
})

test('chooseFlips(weights) takes as few tablets as trying every choice finds', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: -4, max: 4 }), { minLength: 1, maxLength: 8 }), (weights) => {
      let fewest = Infinity
      for (let choice = 0; choice < 1 << weights.length; choice++) {
        const sum = weights.reduce((total, weight, at) => total + (choice & (1 << at) ? -weight : weight), 0)
        if (sum === 0) fewest = Math.min(fewest, choice.toString(2).replaceAll('0', '').length)
      }
      const flips = chooseFlips(weights)
      expect(flips?.length ?? Infinity).toBe(fewest)
      if (flips)
        expect(weights.reduce((sum, weight, at) => sum + (flips.includes(at + 1) ? -weight : weight), 0)).toBe(0)
    }),
    { numRuns: 200 },
  )
})

/**
 * The offer “every second repeat” says that a tablet may be turned over about its upright axis instead. Turned over, what
 * was near is far, and the thread that leaned like the middle stroke of S leans like that of Z.
 */
test('turnByHand(tablet turned over, turns) shows what turning the other way shows, in colour, shed and slant', () => {
  const turns = [1, 1, -1, 2, 1, -1, -1, 1]
  for (const threading of ['S', 'Z'] as const) {
    for (const [at, start] of HOLES.entries()) {
      const other = turnByHand(
        threading,
        start,
        turns.map((turn) => 0 - turn),
      )
      // Top-far comes to top-near, and the holes follow each other in the opposite order: D for A, A for B, B for C, …
      const over = turnByHand(threading === 'S' ? 'Z' : 'S', 'A', turns)
      const letterOf = (letter: string | null) => letter && HOLES[(at - 1 - HOLES.indexOf(letter as 'A') + 8) % 4]!
      expect(over.map((pick) => [letterOf(pick.face), pick.slant, pick.up.map(letterOf).sort()])).toEqual(
        other.map((pick) => [pick.face, pick.slant, pick.up]),
      )
    }
  }
})
