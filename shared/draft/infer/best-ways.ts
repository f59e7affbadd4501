import type { Lattice, LatticeSpace } from './lattice.ts'
import { fillSteps, levelsOf } from './walk.ts'

/**
 * Every step that some best turning takes, in the order of the picks. Places are numbered from 0, the start; every
 * path from there along the steps is one best turning, and every best turning is one such path.
 */
export interface BestWays {
  readonly picks: number
  readonly places: number
  readonly from: Int32Array
  readonly to: Int32Array
  /** 1 forward, -1 back. */
  readonly turn: Int8Array
  /** The hole that shows. */
  readonly hole: Int8Array
  /** Steps of pick p, from 0, are those from `begins[p]` up to `begins[p + 1]`. */
  readonly begins: Int32Array
}

/**
 * Keeps of a lattice what lies on a best walk: from its ends backward, a step is kept when it leads to a state that is
 * kept and reaches it at that state's least cost.
 * @param best the cost that `spread` found
 * @param space where the lattice stands; it lends what is returned
 * Source: our own; tracing back as in any shortest-path lattice.
 */
export function bestWays(lattice: Lattice, best: number, space: LatticeSpace): BestWays {
  const kept = keepBest(lattice, best, space)
  const { walk, offsets } = lattice
  const { picks, start } = walk
  const levels = levelsOf(walk)
  const { keys, next } = space
  const [from, to] = [space.lendWhole(kept.steps), space.lendWhole(kept.steps)]
  const turns = new Int8Array(kept.steps)
  const hole = new Int8Array(kept.steps)
  const begins = new Int32Array(picks + 1)
  // Kept states are numbered in their order.
  const { places } = kept
  let named = 0
  for (let state = 0; state < offsets[picks + 1]!; state++) if (places[state]! >= 0) places[state] = named++
  let step = 0
  for (let t = 0; t < picks; t++) {
    for (let state = offsets[t]!; state < offsets[t + 1]!; state++) {
      if (places[state]! < 0) continue
      const stand = (start + (Math.floor(keys[state]! / levels) & -2) - t) & 3
      for (let turn = 0; turn < 2; turn++) {
        const after = next[2 * state + turn]!
        if (after < 0) continue
        from[step] = places[state]!
        to[step] = places[after]!
        turns[step] = 1 - 2 * turn
        hole[step] = (stand - turn) & 3
        step++
      }
    }
    begins[t + 1] = step
  }
  return { picks, places: named, from, to, turn: turns, hole, begins }
}

/**
 * Takes every step off the lattice that no best walk takes.
 * @returns `places` is 0 for a state that is kept and -1 for others
 */
function keepBest(
  { walk, offsets }: Lattice,
  best: number,
  space: LatticeSpace,
): { steps: number; places: Int32Array } {
  const { picks, start } = walk
  const levels = levelsOf(walk)
  const { keys, costs, next } = space
  const places = space.lendWhole(offsets[picks + 1]!).fill(-1)
  for (let state = offsets[picks]!; state < places.length; state++) if (costs[state] === best) places[state] = 0
  const steps = new Int32Array(8)
  let kept = 0
  for (let t = picks - 1; t >= 0; t--) {
    fillSteps(walk, t, steps)
    for (let state = offsets[t]!; state < offsets[t + 1]!; state++) {
      for (let turn = 0; turn < 2; turn++) {
        const after = next[2 * state + turn]!
        if (after < 0) continue
        next[2 * state + turn] = -1
        if (places[after]! < 0) continue
        const lane = Math.floor(keys[state]! / levels)
        const stand = (start + (lane & -2) - t) & 3
        const reversal = t > 0 && (lane & 1) !== turn ? 1 : 0
        if (costs[state]! + steps[stand * 2 + turn]! + reversal !== costs[after]!) continue
        next[2 * state + turn] = after
        places[state] = 0
        kept++
      }
    }
  }
  return { steps: kept, places }
}
