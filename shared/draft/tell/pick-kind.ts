import { classPicks } from '../packs.ts'
import type { Turning } from '../woven.ts'

/** Picks that are equal, and how they lie to the other kinds. Kinds and picks are numbered from 1. */
export interface PickKind {
  /** In the order in which the kinds first come. */
  readonly kind: number
  readonly picks: readonly number[]
  /** The kind in which every tablet turns the other way; its own number when no tablet turns; 0 when there is none. */
  readonly opposite: number
  /** The kind that is this one seen in a mirror, left for right; its own number when it is symmetric; 0 when none. */
  readonly mirrored: number
}

/**
 * Which picks are equal, which are each other's opposite and which each other's mirror.
 * @returns one entry a kind, in the order in which they first come
 * @example picks 4F, 4B, 4F, 1F 3B: kinds [{ kind: 1, picks: [1, 3], opposite: 2, mirrored: 1 }, { kind: 2, …
 */
export function listPickKinds(turning: Turning): PickKind[] {
  const { tablets, turns } = turning
  const picksOf: number[][] = []
  classPicks(turning).forEach((kind, pick) => (picksOf[kind] ??= []).push(pick + 1))
  const rows = picksOf.map(([first]) => Array.from(turns.subarray((first! - 1) * tablets, first! * tablets)))
  const kindOf = new Map(rows.map((row, kind) => [row.join(), kind + 1]))
  return picksOf.map((picks, at) => {
    const row = rows[at]!
    return {
      kind: at + 1,
      picks,
      opposite: kindOf.get(row.map((turn) => (turn === 0 ? 0 : -turn)).join()) ?? 0,
      mirrored: kindOf.get(row.toReversed().join()) ?? 0,
    }
  })
}
