import { requireWhole } from '../../measure/argument.ts'
import { type CheckPlace, gatherPlaces } from '../check-result.ts'
import type { Draft } from '../draft.ts'
import { visitFloats } from '../floats.ts'
import type { Woven } from '../woven.ts'

/** What is told of the floats of one side. */
export interface SideFloats {
  /** Floats that begin in one repeat, of threads that change side at all. */
  readonly count: number
  /** How many of each length, shortest first, in picks. */
  readonly lengths: readonly { readonly length: number; readonly count: number }[]
  readonly longest: number
  /** How many are longer than the limit. */
  readonly over: number
  /** Threads that never change side, however often the repeat is woven. */
  readonly endless: number
}

export interface FloatsTold {
  /** In picks: longer ones are given with their places. */
  readonly limit: number
  readonly face: SideFloats
  readonly reverse: SideFloats
  /** Longest first. `to` may lie beyond the last pick: it runs into the next repeat. Those without end are not here. */
  readonly places: readonly (CheckPlace & { readonly length: number })[]
  /** Places beyond those given. */
  readonly morePlaces: number
}

const MOST_PLACES = 60

/**
 * The floats of a repeat that is woven again and again, by side, and where they are longer than a limit.
 * @param limit in picks, a whole number from 1
 * @returns places with tablets that share them folded, the longest 60
 * @throws RangeError when limit is not a whole number from 1, or `woven` is for another number of tablets
 * @example a tablet that turns F and B by turns, limit 3: both sides have endless threads and no float is over
 * Source: our own; that floats over 3 picks deserve a look is common practice, no source.
 */
export function tellFloats(draft: Draft, woven: Woven, limit: number): FloatsTold {
  requireWhole('limit', limit, 1)
  const places = gatherPlaces()
  const sides = { face: new Map<number, number>(), reverse: new Map<number, number>() }
  visitFloats(draft, woven, { overSeam: true }, (tablet, _hole, onFace, from, length) => {
    const side = onFace ? 'face' : 'reverse'
    sides[side].set(length, (sides[side].get(length) ?? 0) + 1)
    if (length > limit && length !== Infinity) places.add(tablet + 1, from + 1, from + length, side)
  })
  const list = places.list()
  return {
    limit,
    face: summed(sides.face, limit),
    reverse: summed(sides.reverse, limit),
    places: list.slice(0, MOST_PLACES).map((place) => ({ ...place, length: place.to - place.from + 1 })),
    morePlaces: Math.max(0, list.length - MOST_PLACES),
  }
}

function summed(counts: ReadonlyMap<number, number>, limit: number): SideFloats {
  const lengths = [...counts]
    .filter(([length]) => length !== Infinity)
    .sort(([a], [b]) => a - b)
    .map(([length, count]) => ({ length, count }))
  const total = (some: readonly { count: number }[]) => some.reduce((sum, { count }) => sum + count, 0)
  return {
    count: total(lengths),
    lengths,
    longest: lengths.at(-1)?.length ?? 0,
    over: total(lengths.filter(({ length }) => length > limit)),
    endless: counts.get(Infinity) ?? 0,
  }
}
