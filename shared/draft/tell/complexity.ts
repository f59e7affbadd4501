import { classPicks, listPacks } from '../packs.ts'
import type { Turning } from '../woven.ts'
import { entropyOf } from './entropy.ts'
import { countChanges, countHandfuls } from './handful.ts'

/** How much there is to do and to keep in mind, out of the turning alone. Means are over the picks of one repeat. */
export interface Complexity {
  readonly tablets: number
  /** n of every mean and of the entropies. */
  readonly picks: number
  /** Tablets that change direction, in the mean of a pick; the seam between repeats counts. */
  readonly changesPerPick: number
  /** Handfuls of neighbouring tablets that turn alike, in the mean of a pick. */
  readonly handfulsPerPick: number
  /** Sets of tablets that turn alike through the whole repeat. */
  readonly packs: number
  readonly distinctPicks: number
  /** Entropy of the pick given the one before it, round and round the repeat, in bits: `entropyOf`. */
  readonly bitsPerPick: number
  /** Entropy of the pick alone, in bits. */
  readonly bitsPerPickAlone: number
}

/**
 * Measures how complex a turning is to weave by hand.
 * @returns all figures unrounded; zeros when there are no picks
 * @example two tablets, 2F 2F 2B 2B: { changesPerPick: 1, handfulsPerPick: 1, packs: 1, distinctPicks: 2, bitsPerPick: 1, … }
 * Source: our own choice of measures; the entropies after Shannon, see `entropyOf`.
 */
export function measureComplexity(turning: Turning): Complexity {
  const { tablets, picks } = turning
  const kinds = classPicks(turning)
  const { alone, givenLast } = entropyOf(kinds)
  return {
    tablets,
    picks,
    changesPerPick: meanOf(countChanges(turning)),
    handfulsPerPick: meanOf(countHandfuls(turning)),
    packs: picks === 0 ? 0 : listPacks(turning).length,
    // Kinds are numbered from 0 as they first come.
    distinctPicks: kinds.reduce((most, kind) => Math.max(most, kind + 1), 0),
    bitsPerPick: givenLast,
    bitsPerPickAlone: alone,
  }
}

function meanOf(counts: Int32Array): number {
  return counts.length === 0 ? 0 : counts.reduce((sum, count) => sum + count, 0) / counts.length
}
