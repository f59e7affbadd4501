import type { BestWays } from './best-ways.ts'

/** How many best turnings lead from the start to each place, and from it to the end. */
export interface WayCounts {
  /** By place; exact up to 2 ** 53, rounded beyond, Infinity beyond 1e308. */
  readonly before: Float64Array
  readonly after: Float64Array
  readonly total: () => bigint
  /** How many best turnings take a step, exactly. */
  readonly through: (step: number) => bigint
}

/**
 * Counts the best turnings: in plain numbers, and exactly, as far as it is asked, where those are too large to be exact.
 * No count at any place is larger than the total, because every place lies on a path to the end.
 * @example for one place with two steps a pick over 100 picks: total() is 2n ** 100n
 */
export function countWays(ways: BestWays): WayCounts {
  const { from, to, places, begins, picks } = ways
  const before = new Float64Array(places)
  const after = new Float64Array(places)
  before[0] = 1
  for (let step = 0; step < from.length; step++) before[to[step]!]! += before[from[step]!]!
  for (let step = begins[picks - 1]!; step < to.length; step++) after[to[step]!] = 1
  for (let step = from.length - 1; step >= 0; step--) after[from[step]!]! += after[to[step]!]!
  const toEnd = once(() => exactly(after, to, from, 'last first'))
  const fromStart = once(() => exactly(before, from, to, 'first first'))
  return {
    ...{ before, after },
    total: () => toEnd()(0),
    through: (step) => fromStart()(from[step]!) * toEnd()(to[step]!),
  }
}

function once<T>(make: () => T): () => T {
  let made: T | undefined
  return () => (made ??= make())
}

/** What stands in one place of a long number, so that two of them and what is carried are still exact. */
const LIMB = 2 ** 51

/**
 * The counts as integers of any size. They are kept as limbs, for a BigInt at every place takes several times as long;
 * those that are exact as numbers stay as they are.
 */
function exactly(
  counts: Float64Array,
  source: Int32Array,
  sink: Int32Array,
  order: 'first first' | 'last first',
): (place: number) => bigint {
  const largest = counts.reduce((most, one) => Math.max(most, one), 0)
  if (largest <= Number.MAX_SAFE_INTEGER) return (place) => BigInt(counts[place]!)
  // Rounding and what is beyond all numbers: room for one limb more.
  const limbs = Math.ceil(Math.log2(largest) / 51) + 1
  const long = new Float64Array(limbs * counts.length)
  const isLarge = (place: number) => counts[place]! > Number.MAX_SAFE_INTEGER
  const add = (step: number) => {
    const place = sink[step]!
    if (!isLarge(place)) return
    const from = source[step]!
    const to = place * limbs
    if (!isLarge(from)) return carry(long, to, limbs, counts[from]!)
    const at = from * limbs
    let carried = 0
    for (let limb = 0; limb < limbs; limb++) {
      const sum = long[to + limb]! + long[at + limb]! + carried
      carried = sum >= LIMB ? 1 : 0
      long[to + limb] = sum - carried * LIMB
    }
  }
  if (order === 'first first') for (let step = 0; step < source.length; step++) add(step)
  else for (let step = source.length - 1; step >= 0; step--) add(step)
  return (place) => (isLarge(place) ? toInteger(long, place * limbs, limbs) : BigInt(counts[place]!))
}

/** Adds a number to a long one. */
function carry(long: Float64Array, at: number, limbs: number, more: number): void {
  let carried = more
  for (let limb = 0; limb < limbs && carried > 0; limb++) {
    const sum = long[at + limb]! + (carried % LIMB)
    const over = sum >= LIMB ? 1 : 0
    long[at + limb] = sum - over * LIMB
    carried = Math.floor(carried / LIMB) + over
  }
}

function toInteger(long: Float64Array, at: number, limbs: number): bigint {
  let value = 0n
  for (let limb = limbs - 1; limb >= 0; limb--) value = value * BigInt(LIMB) + BigInt(long[at + limb]!)
  return value
}
