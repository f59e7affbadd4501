import fc from 'fast-check'
import { expect, test } from 'vitest'
import { mirrorTablets } from '../../shared/draft/threading.ts'
import { listFaceRows } from '../../shared/draft/tell/face-row.ts'
import { compareHalves } from '../../shared/draft/tell/likeness.ts'
import { findShift, periodOf } from '../../shared/draft/tell/ring.ts'
import { findSymmetry, type Move } from '../../shared/draft/tell/symmetry.ts'
import { colourGrid, weave } from '../../shared/draft/weave.ts'
import { arbitraryDraft, draftOf, makeTablet } from '../draft/arbitrary-draft.ts'

const ring = fc.array(fc.integer({ min: 0, max: 2 }), { minLength: 1, maxLength: 14 })

test('findShift(ring, wanted, least) and periodOf(ring) agree with trying every shift', () => {
  fc.assert(
    fc.property(ring, fc.nat(13), fc.nat(13), fc.boolean(), (symbols, by, from, spoil) => {
      const n = symbols.length
      const wanted = symbols.map((_, at) => symbols[(at + by) % n]!)
      if (spoil) wanted[0] = 2 - wanted[0]!
      const least = from % n
      const fits = (shift: number) => wanted.every((symbol, at) => symbol === symbols[(at + shift) % n])
      const shifts = Array.from({ length: n }, (_, at) => least + at)
      expect(findShift(symbols, wanted, least)).toBe(shifts.find(fits))
      const divisors = Array.from({ length: n }, (_, at) => at + 1).filter((length) => n % length === 0)
      expect(periodOf(symbols)).toBe(
        divisors.find((length) => symbols.every((one, at) => one === symbols[at % length])),
      )
    }),
    { numRuns: 200 },
  )
  expect(() => findShift([1], [1, 2])).toThrow(RangeError)
})

/** A move tried cell by cell, as its doc comment says it. */
function fits(cells: number[][], { mirrored, fromEnd, exchanged, shift }: Move): boolean {
  const picks = cells.length
  return cells.every((row, pick) => {
    const other = cells[((fromEnd ? shift - pick : pick + shift) + 2 * picks) % picks]!
    return row.every((_, tablet) => {
      const cell = row[mirrored ? row.length - 1 - tablet : tablet]!
      return (exchanged ? -cell : cell) === other[tablet]
    })
  })
}

test('findSymmetry(table, exchange) finds each move that fits, with its smallest shift, and no other', () => {
  const turns = fc.array(fc.tuple(fc.constantFrom(1, -1), fc.constantFrom(1, -1)), { minLength: 1, maxLength: 6 })
  fc.assert(
    fc.property(turns, (cells) => {
      const table = { tablets: 2, picks: cells.length, cells: cells.flat() }
      const { period, moves } = findSymmetry(table, (turn) => -turn)
      const expected: Move[] = []
      for (const exchanged of [false, true]) {
        for (const [mirrored, fromEnd] of [
          [true, false],
          [false, true],
          [true, true],
          [false, false],
        ] as const) {
          if (!mirrored && !fromEnd && !exchanged) continue
          const all = Array.from({ length: period }, (_, shift) => ({ mirrored, fromEnd, exchanged, shift }))
          expected.push(...all.filter((move) => fits(cells, move)).slice(0, 1))
        }
      }
      const sorted = (list: readonly Move[]) => list.map((move) => JSON.stringify(move)).sort()
      expect(sorted(moves)).toEqual(sorted(expected))
    }),
    { numRuns: 150 },
  )
  expect(() => findSymmetry({ tablets: 2, picks: 2, cells: [1] })).toThrow(RangeError)
})

test('listFaceRows(draft, woven) is the face of so many repeats woven out, but for idles before any turn', () => {
  fc.assert(
    fc.property(arbitraryDraft, ({ draft, turning, turns }) => {
      const rows = listFaceRows(draft, weave(draft, turning))
      // One repeat before, so that nothing is idle before any turn; then moved back to where the first one begins.
      const long = draftOf(draft.tablets, Array.from({ length: 5 }, () => turns).flat())
      const grid = colourGrid(draft, weave(draft, long.turning), 'face').slice(4 * turns.length)
      const first = grid
        .slice(0, turns.length)
        .map((row) => row.map((key) => (key === null ? 0 : rows.keys.indexOf(key) + 1)))
      // Four repeats bring every tablet back, so the fifth is the first again.
      expect([...rows.colours.subarray(0, turning.turns.length)]).toEqual(first.flat())
      expect(rows.picks).toBe(rows.repeats * turns.length)
    }),
    { numRuns: 60 },
  )
})

test('compareHalves(…) of a band beside its own mirror is alike in everything; one change is told by itself', () => {
  fc.assert(
    fc.property(arbitraryDraft, ({ draft, turns }) => {
      const tablets = [...draft.tablets, ...mirrorTablets(draft.tablets)]
      const whole = draftOf(
        tablets,
        turns.map((pick) => [...pick, ...pick.toReversed()]),
      )
      const compare = ({ draft, turning }: typeof whole) => {
        const woven = weave(draft, turning)
        return compareHalves(draft, turning, woven, listFaceRows(draft, woven))
      }
      const all = compare(whole)
      for (const { same, of } of Object.values(all) as { same: number; of: number }[]) expect(same).toBe(of)
      expect(all.threading.of).toBe(draft.tablets.length)
      // The first tablet threaded the other way keeps its colours and turns its slants.
      const flipped = compare({
        ...whole,
        draft: { ...whole.draft, tablets: tablets.with(0, { ...tablets[0]!, threading: tablets.at(-1)!.threading }) },
      })
      expect(flipped.threading.same).toBe(all.threading.of - 1)
      expect(flipped.colours.same).toBe(all.colours.of)
      expect(flipped.slants.same).toBe(all.slants.of - turns.filter((pick) => pick[0] !== 0).length)
    }),
    { numRuns: 40 },
  )
})

test('compareHalves(…) leaves the middle tablet out and refuses arguments of another width', () => {
  const { draft, turning } = draftOf([makeTablet(), makeTablet(), makeTablet({ threading: 'Z' })], [[1, -1, 1]])
  const woven = weave(draft, turning)
  const rows = listFaceRows(draft, woven)
  expect(compareHalves(draft, turning, woven, rows).threading).toEqual({ same: 1, of: 1 })
  expect(() => compareHalves(draft, { ...turning, tablets: 2 }, woven, rows)).toThrow(RangeError)
})
