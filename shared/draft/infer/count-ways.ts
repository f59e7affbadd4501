import type { BestWays } from './best-ways.ts'
import type { LatticeSpace } from './lattice.ts'

/** How many best turnings lead from the start to each place, and from it to the end. */
export interface WayCounts {
  /** By place; exact up to 2 ** 53, rounded beyond, Infinity beyond 1e308. */
  readonly before: Float64Array
  readonly after: Float64Array
}

/**
 * Counts the best turnings in plain numbers.
 * No count at any place is larger than the total, because every place lies on a path to the end.
 * @example for one place with two steps a pick over 50 picks: after[0] is 2 ** 50
 */
export function countWays({ from, to, places, begins, picks }: BestWays, space: LatticeSpace): WayCounts {
  const before = space.lendNumbers(places)
  const after = space.lendNumbers(places)
  before[0] = 1
  for (let step = 0; step < from.length; step++) before[to[step]!]! += before[from[step]!]!
  for (let step = begins[picks - 1]!; step < to.length; step++) after[to[step]!] = 1
  for (let step = from.length - 1; step >= 0; step--) after[from[step]!]! += after[to[step]!]!
  return { before, after }
}

/**
 * How many best turnings take each step of some picks, exactly, however many they are.
 * @param at picks from 0, rising
 * @returns for each of them its steps, in their order
 * @example for one place with two steps a pick over 100 picks, at [0]: [[2n ** 99n, 2n ** 99n]]
 */
export function countThrough(ways: BestWays, { before, after }: WayCounts, at: readonly number[]): bigint[][] {
  const { from, to, begins } = ways
  const overSteps = (pick: number, through: (step: number) => bigint) =>
    Array.from({ length: begins[pick + 1]! - begins[pick]! }, (_, n) => through(begins[pick]! + n))
  if (after[0]! <= Number.MAX_SAFE_INTEGER) {
    return at.map((pick) => overSteps(pick, (step) => BigInt(before[from[step]!]!) * BigInt(after[to[step]!]!)))
  }
  const [upTo, onFrom] = [countLayers(ways, at, 'up'), countLayers(ways, at, 'down')]
  return at.map((pick, n) => overSteps(pick, (step) => upTo[n]!(from[step]!) * onFrom[n]!(to[step]!)))
}

/** Bits of a number in which whole numbers are exact. */
const EXACT_BITS = 53

/**
 * Goes through the picks from one end, and has long numbers for the places between two picks alone: they are kept as
 * limbs, for a BigInt at every place takes several times as long. Limbs have room for all that is added to a place before
 * what is too much is carried on, once a place.
 * @returns for each pick of `at` the counts before it (up: from the start) or after it (down: to the end), by place
 */
function countLayers(
  { from, to, begins, picks, places }: BestWays,
  at: readonly number[],
  way: 'up' | 'down',
): ((place: number) => bigint)[] {
  const [source, sink] = way === 'up' ? [from, to] : [to, from]
  const bits = EXACT_BITS - Math.ceil(Math.log2(mostAddends(sink, places) + 1))
  const base = 2 ** bits
  /** First place of what stands before a pick. */
  const firstOf = (pick: number) => (pick < picks ? from[begins[pick]!]! : from.at(-1)! + 1)
  const sizeOf = (pick: number) => (pick < picks ? firstOf(pick + 1) : places) - firstOf(pick)
  const [end, by] = way === 'up' ? [at.at(-1)!, 1] : [at[0]! + 1, -1]
  let layer = way === 'up' ? 0 : picks
  let first = firstOf(layer)
  // Of a place's `stride` limbs so many are in use.
  let [limbs, stride] = [1, 1]
  let counts = new Float64Array(sizeOf(layer)).fill(1)
  const found = new Map<number, (place: number) => bigint>()
  const wanted = new Set(way === 'up' ? at : at.map((pick) => pick + 1))
  for (;;) {
    if (wanted.has(layer)) found.set(layer, readerOf(counts, first, { limbs, stride, base }))
    if (layer === end) break
    const [next, pick] = [layer + by, way === 'up' ? layer : layer - 1]
    const nextFirst = firstOf(next)
    // Room for what is carried out of the highest limb.
    const sums = new Float64Array(sizeOf(next) * (limbs + 1))
    for (let step = begins[pick]!; step < begins[pick + 1]!; step++) {
      const own = (source[step]! - first) * stride
      const into = (sink[step]! - nextFirst) * (limbs + 1)
      for (let limb = 0; limb < limbs; limb++) sums[into + limb]! += counts[own + limb]!
    }
    stride = limbs + 1
    if (carryAll(sums, limbs, base)) limbs++
    ;[counts, layer, first] = [sums, next, nextFirst]
  }
  return at.map((pick) => found.get(way === 'up' ? pick : pick + 1)!)
}

/** @returns whether anything came into the limb above the others */
function carryAll(sums: Float64Array, limbs: number, base: number): boolean {
  let isGrown = false
  for (let place = 0; place < sums.length; place += limbs + 1) {
    for (let limb = place; limb < place + limbs; limb++) {
      if (sums[limb]! < base) continue
      const over = Math.floor(sums[limb]! / base)
      sums[limb]! -= over * base
      sums[limb + 1]! += over
      if (limb + 1 === place + limbs) isGrown = true
    }
  }
  return isGrown
}

function readerOf(
  counts: Float64Array,
  first: number,
  { limbs, stride, base }: { readonly limbs: number; readonly stride: number; readonly base: number },
): (place: number) => bigint {
  const known = new Map<number, bigint>()
  return (place) => {
    let value = known.get(place)
    if (value !== undefined) return value
    value = 0n
    for (let limb = limbs - 1; limb >= 0; limb--) {
      value = value * BigInt(base) + BigInt(counts[(place - first) * stride + limb]!)
    }
    known.set(place, value)
    return value
  }
}

/** To how many steps a place is the sink at most. */
function mostAddends(sink: Int32Array, places: number): number {
  const many = new Int32Array(places)
  let most = 0
  for (let step = 0; step < sink.length; step++) {
    const now = ++many[sink[step]!]!
    if (now > most) most = now
  }
  return most
}
