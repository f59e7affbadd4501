import fc from 'fast-check'
import { type Draft, HOLES, type Tablet } from '../../shared/draft/draft.ts'
import { writeTurning } from '../../shared/draft/turning.ts'
import type { Turning } from '../../shared/draft/woven.ts'

export const COLOURS = {
  m: { name: 'madder', hex: '#9c3b2e' },
  w: { name: 'undyed', hex: '#e9dfc8' },
  b2: { name: 'woad', hex: '#2f4a6b' },
}

const hole = fc.constantFrom('m', 'w', 'b2', null)

export const arbitraryTablet: fc.Arbitrary<Tablet> = fc.record({
  threading: fc.constantFrom('S' as const, 'Z' as const),
  holes: fc.tuple(hole, hole, hole, hole),
  start: fc.constantFrom(...HOLES),
  part: fc.constantFrom('border' as const, 'pattern' as const),
})

export interface DraftAndTurns {
  draft: Draft
  turning: Turning
  /** The same turns as plain lists, pick by pick. */
  turns: number[][]
}

/** Random drafts with idles, half turns, empty holes and every start. */
export const arbitraryDraft: fc.Arbitrary<DraftAndTurns> = fc
  .record({
    tablets: fc.array(arbitraryTablet, { minLength: 1, maxLength: 9 }),
    picks: fc.integer({ min: 1, max: 24 }),
  })
  .chain(({ tablets, picks }) =>
    fc
      .array(
        fc.array(fc.constantFrom(1, 1, -1, -1, 0, 2, -2), { minLength: tablets.length, maxLength: tablets.length }),
        { minLength: picks, maxLength: picks },
      )
      .map((turns) => draftOf(tablets, turns)),
  )

export function draftOf(tablets: readonly Tablet[], turns: number[][]): DraftAndTurns {
  const turning = { tablets: tablets.length, picks: turns.length, turns: Int8Array.from(turns.flat()) }
  const draft: Draft = { title: 'Random', colours: COLOURS, weft: 'm', tablets, picks: writeTurning(turning) }
  return { draft, turning, turns }
}

/** A tablet threaded m, w, b2, m unless told otherwise. */
export function makeTablet(changes: Partial<Tablet> = {}): Tablet {
  return { threading: 'S', holes: ['m', 'w', 'b2', 'm'], start: 'A', part: 'pattern', ...changes }
}
