import type { ColourKey, Draft, Hole, Tablet } from '../draft.ts'
import type { Turning } from '../woven.ts'
import { MisprintBench } from './misprint-bench.ts'
import { listChanges } from './misprint-change.ts'

/** What an author says of a draft, as far as it can be looked into. */
export interface StatedProperties {
  /** Every tablet turns as often forward as back. */
  readonly neutral?: boolean
  /** Every tablet is back at its starting hole after one repeat. */
  readonly closes?: boolean
  /** The right half is threaded as the mirror of the left. */
  readonly threading?: boolean
  /** The right half is turned as the left. */
  readonly turning?: boolean
  /** No thread floats over more picks, on face or reverse, woven again and again. */
  readonly longestFloat?: number | undefined
  /** Colours of the face, first repeat: its right half mirrors its left, at the same pick or half a repeat on. */
  readonly face?: 'across' | 'glide' | undefined
}

export type PropertyKey = 'neutral' | 'closes' | 'threading' | 'turning' | 'floats' | 'face'

/** One cell of a draft that may be misprinted. Picks and tablets are numbered from 1. */
export type CellChange =
  | {
      readonly kind: 'turn'
      readonly pick: number
      readonly tablet: number
      readonly was: number
      readonly now: number
    }
  | {
      readonly kind: 'colour'
      readonly tablet: number
      readonly hole: Hole
      readonly was: ColourKey | null
      readonly now: ColourKey | null
    }
  | {
      readonly kind: 'threading'
      readonly tablet: number
      readonly was: Tablet['threading']
      readonly now: Tablet['threading']
    }

export interface Misprint {
  readonly change: CellChange
  /** Stated properties that become true, and those that were true and no longer are. */
  readonly restored: readonly PropertyKey[]
  readonly broken: readonly PropertyKey[]
  /** How many stated properties are true after the change. */
  readonly met: number
  /** Cells of the face in one repeat whose colour changes, the changed cell itself left out. */
  readonly faceChanges: number
  /** Other picks of the repeat that the changed pick then equals; for colour and threading 0. */
  readonly equalPicks: number
}

export interface MisprintSearch {
  readonly stated: readonly PropertyKey[]
  /** Those that do not hold, and in how many places: tablets, pairs of tablets, pairs of turns, pairs of cells. */
  readonly unmet: readonly { readonly key: PropertyKey; readonly places: number }[]
  /** Best first. */
  readonly found: readonly Misprint[]
  /** How many more were found than are listed. */
  readonly more: number
}

/** The work grows with the square of the picks. Our own bound, by measuring. */
export const MOST_MISPRINT_PICKS = 2000

const MOST_LISTED = 60

/**
 * Looks for the single cell of a draft whose change would make what its author says true: a turn, the colour of a hole, the
 * threading of a tablet. Each single change is really tried; but a change touches one tablet, so only tablets in which
 * all places lie where a property fails can mend it, and only what that tablet has part in is looked at again.
 *
 * Listed are the changes after which more stated properties hold than before. Their order: most properties true, then
 * fewest other cells of the face changed, then most other picks that the changed pick equals.
 * @param stated at least one property, or nothing is found
 * @throws RangeError when the turning is for another number of tablets or has more than 2,000 picks, when longestFloat is
 *   not a whole number from 1, or a glide is stated of an odd number of picks
 * @example findMisprints(draft, turning, { neutral: true, turning: true }).found[0]?.change // { kind: 'turn', pick: 7, … }
 * Source: our own.
 */
export function findMisprints(draft: Draft, turning: Turning, stated: StatedProperties): MisprintSearch {
  if (turning.picks > MOST_MISPRINT_PICKS) {
    throw new RangeError(`turning.picks must be at most ${MOST_MISPRINT_PICKS}, got ${turning.picks}`)
  }
  const bench = new MisprintBench(draft, turning, stated)
  const found: Misprint[] = []
  for (const tablet of bench.tabletsThatCanMend()) {
    for (const change of listChanges(draft, turning, tablet)) {
      const tried = bench.tryChange(change)
      if (tried !== undefined) found.push(tried)
    }
  }
  found.sort(
    (a, b) =>
      b.met - a.met ||
      a.faceChanges - b.faceChanges ||
      b.equalPicks - a.equalPicks ||
      ORDER[a.change.kind] - ORDER[b.change.kind] ||
      a.change.tablet - b.change.tablet,
  )
  return {
    stated: bench.stated,
    unmet: bench.unmet,
    found: found.slice(0, MOST_LISTED),
    more: Math.max(0, found.length - MOST_LISTED),
  }
}

const ORDER = { turn: 0, threading: 1, colour: 2 } as const
