import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { HOLES } from '../../shared/draft/draft.ts'
import { listHiddenThreads } from '../../shared/draft/hidden-threads.ts'
import { countDistinctPicks, listPacks } from '../../shared/draft/packs.ts'
import { countReversals, keepsParity, listStillTablets } from '../../shared/draft/turn-habits.ts'
import { readTurning } from '../../shared/draft/turning.ts'
import { closesAfter, isTwistNeutral } from '../../shared/draft/twist.ts'
import { weave } from '../../shared/draft/weave.ts'
import type { Turning } from '../../shared/draft/woven.ts'
import { arbitraryDraft, draftOf, makeTablet } from './arbitrary-draft.ts'
import { weaveByHand } from './corner-tablet.ts'

function turningOfLines(lines: string[], tablets: number): Turning {
  const read = readTurning(lines, tablets)
  if (!read.ok) throw new Error(read.problems[0]!.message)
  return read.turning
}

function oneTablet(turns: number[]) {
  const made = draftOf(
    [makeTablet()],
    turns.map((turn) => [turn]),
  )
  return { ...made, woven: weave(made.draft, made.turning) }
}

describe('listPacks(turning)', () => {
  test('groups tablets that turn alike through the whole repeat', () => {
    expect(listPacks(turningOfLines(['6F', '2F 2B 2F', '2F 3B 1F'], 6))).toEqual([[1, 2, 6], [3, 4], [5]])
  })

  test('agrees with columns compared as text', () => {
    fc.assert(
      fc.property(arbitraryDraft, ({ draft, turning, turns }) => {
        const packs = new Map<string, number[]>()
        draft.tablets.forEach((_, tablet) => {
          const column = turns.map((pick) => pick[tablet]).join()
          packs.set(column, [...(packs.get(column) ?? []), tablet + 1])
        })
        expect(listPacks(turning)).toEqual([...packs.values()])
      }),
    )
  })
})

describe('countDistinctPicks(turning)', () => {
  test('counts equal picks once, however they are written', () => {
    expect(countDistinctPicks(turningOfLines(['6F', '3F3F', '6B', '6F', '5B 1I'], 6))).toBe(3)
    expect(countDistinctPicks(turningOfLines(['1F'], 1))).toBe(1)
  })

  test('agrees with picks compared as text', () => {
    fc.assert(
      fc.property(arbitraryDraft, ({ turning, turns }) => {
        expect(countDistinctPicks(turning)).toBe(new Set(turns.map((pick) => pick.join())).size)
      }),
    )
  })
})

describe('countReversals(turning)', () => {
  test('counts changes of direction, through idles, half turns included', () => {
    const lines = ['4F', '1F 1I 1B 1I', '1F 1B 1F 1I', '1F 1I 1(2B) 1I', '3F 1I']
    expect(countReversals(turningOfLines(lines, 4))).toEqual([0, 2, 4, 0])
  })
})

describe('listStillTablets(turning)', () => {
  test('lists tablets that never turn', () => {
    expect(listStillTablets(turningOfLines(['1F 2I', '1I 1(2F) 1I'], 3))).toEqual([3])
  })
})

describe('keepsParity(turning)', () => {
  test.each([
    [['2F', '1F 1B'], true],
    [['2F', '1F 1I'], false],
    [['2F', '1(2F) 1B'], false],
    [['2F', '1(2B) 1B'], false],
  ])('of %j is %s', (lines, parity) => {
    expect(keepsParity(turningOfLines(lines, 2))).toBe(parity)
  })
})

describe('isTwistNeutral(woven) and closesAfter(woven)', () => {
  test.each([
    [[1, -1], true, 1],
    [[1, 1, 1, 1], false, 1],
    [[1, 1], false, 2],
    [[2, 2], false, 1],
    [[1, 1, 1], false, 4],
    [[-1], false, 4],
    [[0, 0], true, 1],
  ])('of %j are %s and %i', (turns, neutral, closes) => {
    const { woven } = oneTablet(turns)
    expect([isTwistNeutral(woven), closesAfter(woven)]).toEqual([neutral, closes])
  })

  test('a twist forward in one tablet is not made good by a twist back in another', () => {
    const { draft, turning } = draftOf([makeTablet(), makeTablet()], [[1, -1]])
    expect(isTwistNeutral(weave(draft, turning))).toBe(false)
  })

  test('closesAfter is the first repeat after which every tablet, turned by hand, is back', () => {
    fc.assert(
      fc.property(arbitraryDraft, ({ draft, turning, turns }) => {
        const stands = weaveByHand(draft, [...turns, ...turns, ...turns, ...turns])
        const isBack = (repeats: number) =>
          draft.tablets.every(({ start }, tablet) => stands[tablet]![repeats * turns.length - 1]!.topNear === start)
        expect(closesAfter(weave(draft, turning))).toBe([1, 2, 3, 4].find(isBack))
      }),
    )
  })
})

describe('listHiddenThreads(draft, woven, side)', () => {
  test('finds all but one thread in a tablet that turns to and fro', () => {
    const { draft, woven } = oneTablet([1, -1])
    expect(listHiddenThreads(draft, woven, 'face').map(({ hole }) => hole)).toEqual(['B', 'C', 'D'])
  })

  test('finds none where later repeats bring the others up', () => {
    const { draft, woven } = oneTablet([1])
    expect(listHiddenThreads(draft, woven, 'face')).toEqual([])
  })

  test('agrees with four repeats turned by hand, on both sides', () => {
    fc.assert(
      fc.property(arbitraryDraft, ({ draft, turning, turns }) => {
        const woven = weave(draft, turning)
        const byHand = weaveByHand(draft, [...turns, ...turns, ...turns, ...turns])
        for (const side of ['face', 'reverse'] as const) {
          const hidden = draft.tablets.flatMap(({ holes }, tablet) =>
            HOLES.filter((hole, at) => holes[at] !== null && byHand[tablet]!.every((pick) => pick[side] !== hole)).map(
              (hole) => ({ tablet: tablet + 1, hole }),
            ),
          )
          expect(listHiddenThreads(draft, woven, side)).toEqual(hidden)
        }
      }),
    )
  })
})
