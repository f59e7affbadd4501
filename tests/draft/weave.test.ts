import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { HOLES, type Tablet } from '../../shared/draft/draft.ts'
import { colourGrid, weave } from '../../shared/draft/weave.ts'
import type { Woven } from '../../shared/draft/woven.ts'
import { arbitraryDraft, draftOf, makeTablet } from './arbitrary-draft.ts'
import { weaveByHand } from './corner-tablet.ts'

const SLANTS = ['.', '/', '\\']

function letters(holes: Int8Array): string {
  return [...holes].map((hole) => HOLES[hole] ?? '-').join('')
}

/** One tablet that starts at A, turned as told. */
function oneTablet(turns: number[], changes: Partial<Tablet> = {}): Woven {
  const { draft, turning } = draftOf(
    [makeTablet(changes)],
    turns.map((turn) => [turn]),
  )
  return weave(draft, turning)
}

describe('weave(draft, turning)', () => {
  test('shows A B C D A A D D A for F F F F F B B F F from A', () => {
    expect(letters(oneTablet([1, 1, 1, 1, 1, -1, -1, 1, 1]).face)).toBe('ABCDAADDA')
  })

  test('brings A, B, C, D to top-near in turn going forward', () => {
    expect(letters(oneTablet([1, 1, 1, 1, 1]).topNear)).toBe('BCDAB')
  })

  test.each([
    ['S', 1, '/'],
    ['S', -1, '\\'],
    ['Z', 1, '\\'],
    ['Z', -1, '/'],
    ['S', 2, '/'],
    ['Z', -2, '/'],
    ['S', 0, '.'],
  ] as const)('lays the stitch of threading %s at turn %i like %s', (threading, turn, slant) => {
    expect(SLANTS[oneTablet([turn], { threading }).slant[0]!]).toBe(slant)
  })

  test('shows nothing while a tablet idles before its first turn, then what it last showed', () => {
    const woven = oneTablet([0, 0, 1, 0, 0, -1])
    expect(letters(woven.face)).toBe('--AAAA')
    expect(letters(woven.reverse)).toBe('--CCCC')
  })

  test('agrees with tablets turned by hand, corner by corner', () => {
    fc.assert(
      fc.property(arbitraryDraft, ({ draft, turning, turns }) => {
        const { topNear, ...woven } = weave(draft, turning)
        const byHand = weaveByHand(draft, turns)
        const engine = draft.tablets.map((_, tablet) =>
          turns.map((_, pick) => {
            const cell = pick * woven.tablets + tablet
            const near = topNear[cell]!
            return {
              face: HOLES[woven.face[cell]!] ?? null,
              reverse: HOLES[woven.reverse[cell]!] ?? null,
              slant: SLANTS[woven.slant[cell]!],
              topNear: HOLES[near],
              up: [HOLES[near]!, HOLES[(near + 3) % 4]!].sort(),
            }
          }),
        )
        expect(engine).toEqual(byHand)
      }),
      { numRuns: 300 },
    )
  })

  test('weaves the mirror image from the mirrored draft', () => {
    fc.assert(
      fc.property(arbitraryDraft, ({ draft, turning, turns }) => {
        const tablets = draft.tablets.toReversed().map((tablet): Tablet => {
          return { ...tablet, threading: tablet.threading === 'S' ? 'Z' : 'S' }
        })
        const mirror = draftOf(
          tablets,
          turns.map((pick) => pick.toReversed()),
        )
        const woven = weave(draft, turning)
        const mirrored = weave(mirror.draft, mirror.turning)
        for (const side of ['face', 'reverse'] as const) {
          const grid = colourGrid(draft, woven, side)
          expect(colourGrid(mirror.draft, mirrored, side)).toEqual(grid.map((row) => row.toReversed()))
        }
        const flip = ['.', '\\', '/']
        const rows = (slant: Uint8Array, names: string[]) =>
          turns.map((_, pick) =>
            [...slant.subarray(pick * tablets.length, (pick + 1) * tablets.length)].map((s) => names[s]),
          )
        expect(rows(mirrored.slant, SLANTS)).toEqual(rows(woven.slant, flip).map((row) => row.toReversed()))
      }),
    )
  })

  test('is twist-neutral and back in place after every turn is undone in reverse order', () => {
    fc.assert(
      fc.property(arbitraryDraft, ({ draft, turns }) => {
        const undone = turns.toReversed().map((pick) => pick.map((turn) => 0 - turn))
        const both = draftOf(draft.tablets, [...turns, ...undone])
        const woven = weave(both.draft, both.turning)
        expect([...woven.net]).toEqual(draft.tablets.map(() => 0))
        const last = woven.topNear.subarray(-draft.tablets.length)
        expect([...last].map((hole) => HOLES[hole])).toEqual(draft.tablets.map((tablet) => tablet.start))
      }),
    )
  })

  test('counts a half turn as two quarter turns of twist, and leaves the tablet where two would', () => {
    fc.assert(
      fc.property(arbitraryDraft, ({ draft, turning, turns }) => {
        const inQuarters = turns.flatMap((pick) => [
          pick.map((turn) => Math.sign(turn)),
          pick.map((turn) => turn - Math.sign(turn)),
        ])
        const quarters = draftOf(draft.tablets, inQuarters)
        const half = weave(draft, turning)
        const whole = weave(quarters.draft, quarters.turning)
        expect(whole.net).toEqual(half.net)
        expect(whole.topNear.subarray(-half.tablets)).toEqual(half.topNear.subarray(-half.tablets))
        expect(whole.face.subarray(-half.tablets)).toEqual(half.face.subarray(-half.tablets))
      }),
    )
  })

  // Common practice, no source.
  test.each([2, -2])(
    'puts a tablet right for the rest by a half turn (%i) after one pick turned the wrong way',
    (half) => {
      const meant = oneTablet([1, 1, 1, 1, -1, -1])
      const slipped = oneTablet([1, 1, -1, 1, -1, -1])
      const mended = oneTablet([1, 1, -1, half, 1, -1, -1])
      expect(letters(slipped.face.subarray(3))).not.toBe(letters(meant.face.subarray(3)))
      expect(letters(mended.topNear.subarray(4))).toBe(letters(meant.topNear.subarray(3)))
      expect(letters(mended.face.subarray(4))).toBe(letters(meant.face.subarray(3)))
    },
  )

  test('weaves the largest draft there may be', () => {
    const tablets = Array.from({ length: 400 }, (_, at) => makeTablet({ threading: at % 2 ? 'S' : 'Z' }))
    const { draft } = draftOf(tablets, [tablets.map(() => 1)])
    const turning = { tablets: 400, picks: 20_000, turns: new Int8Array(8_000_000).fill(1) }
    const woven = weave(draft, turning)
    expect(woven.net[399]).toBe(20_000)
    expect(woven.face[7_999_999]).toBe(3)
  })

  test('throws when the turning is for other tablets or has too few turns', () => {
    const { draft } = draftOf([makeTablet()], [[1]])
    expect(() => weave(draft, { tablets: 2, picks: 1, turns: Int8Array.of(1, 1) })).toThrow('turning.tablets')
    expect(() => weave(draft, { tablets: 1, picks: 2, turns: Int8Array.of(1) })).toThrow('turning.turns')
  })
})

describe('colourGrid(draft, woven, side)', () => {
  test('gives colours by pick and tablet, null for an empty hole and before any turn', () => {
    const { draft, turning } = draftOf(
      [makeTablet({ holes: ['m', null, 'w', 'b2'] }), makeTablet({ start: 'C' })],
      [
        [1, 0],
        [1, 1],
        [0, -1],
      ],
    )
    const woven = weave(draft, turning)
    expect(colourGrid(draft, woven, 'face')).toEqual([
      ['m', null],
      [null, 'b2'],
      [null, 'b2'],
    ])
    expect(colourGrid(draft, woven, 'reverse')).toEqual([
      ['w', null],
      ['b2', 'm'],
      ['b2', 'm'],
    ])
  })

  test('throws when the draft has other tablets', () => {
    const { draft, turning } = draftOf([makeTablet()], [[1]])
    const two = { ...draft, tablets: [makeTablet(), makeTablet()] }
    expect(() => colourGrid(two, weave(draft, turning), 'face')).toThrow(RangeError)
  })
})
