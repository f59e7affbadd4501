import { levelsOf, NEVER, stepCost, type Walk } from './walk.ts'

/** Most states of one tablet that are kept at once; 4,000 picks that must be neutral fit whatever was seen. Our own. */
const MOST_STATES = 1 << 25

/** Memory that is used again from tablet to tablet. */
export class LatticeSpace {
  /** Least cost from the start to each state, and from each state to the end. */
  costFrom = new Int32Array(1 << 14)
  costTo = new Int32Array(1 << 14)
  toGo = new Int32Array(1 << 14)

  holdToGo(states: number): Int32Array {
    if (this.toGo.length < states) this.toGo = new Int32Array(states * 2)
    return this.toGo
  }

  hold(states: number): void {
    if (this.costFrom.length >= states) return
    if (states > MOST_STATES) {
      throw new RangeError('require.twistNeutral: a repeat this long with so many mismatches needs too much memory')
    }
    const longer = new Int32Array(Math.min(MOST_STATES, states * 2))
    longer.set(this.costFrom)
    this.costFrom = longer
  }
}

/**
 * The states that a bound lets through, layer by layer. A layer is the states after so many picks: net turns (all of
 * them when the turning must be neutral, else only the stand that they lead to), last direction, level of the float.
 */
export interface Lattice {
  readonly walk: Walk
  readonly levels: number
  /** Layer t begins at `offsets[t]`; layers count from 1. */
  readonly offsets: Int32Array
  /** Net turns of the first column of each layer; without neutrality the columns are stands. */
  readonly lowest: Int32Array
  readonly columns: Int32Array
}

export type Spread =
  | { readonly reached: true; readonly lattice: Lattice; readonly cost: number }
  /** The least cost that the bound kept out; NEVER when nothing was kept out, so that there is no way at all. */
  | { readonly reached: false; readonly keptOut: number }

/** The column of the layer after t picks that a stand or a net belongs to; out of the layer when it is not there. */
export function columnOf({ walk, lowest }: Lattice, t: number, net: number): number {
  return walk.neutral ? (net - lowest[t]!) >> 1 : ((walk.start + net) & 3) >> 1
}

/** A net that leads to the stand of a column: the net itself, or one of those that stand alike. */
export function netOf({ walk, lowest }: Lattice, t: number, column: number): number {
  if (walk.neutral) return lowest[t]! + 2 * column
  return 2 * column + ((walk.start + t) & 1) - walk.start
}

/**
 * Finds the least cost of a walk among those that cost no more than the bound.
 * @param toGo as `fillCostToGo` gives it, for the same walk
 * @param bound states from which the end cannot be reached within it are left out
 */
export function spread(walk: Walk, toGo: Int32Array, bound: number, space: LatticeSpace): Spread {
  const levels = levelsOf(walk)
  const { picks, neutral } = walk
  const offsets = new Int32Array(picks + 2)
  const lattice = {
    ...{ walk, levels, offsets },
    lowest: new Int32Array(picks + 2),
    columns: new Int32Array(picks + 2),
  }
  let keptOut = NEVER
  const open = (t: number, low: number, high: number) => {
    const limit = picks - t
    const first = Math.max(low, -limit)
    lattice.lowest[t] = first
    lattice.columns[t] = neutral ? Math.max(0, (Math.min(high, limit) - first) / 2 + 1) : 2
    offsets[t + 1] = offsets[t]! + lattice.columns[t]! * 2 * levels
    space.hold(offsets[t + 1]!)
    space.costFrom.fill(NEVER, offsets[t]!, offsets[t + 1]!)
  }
  const enter = (t: number, net: number, turn: number, run: number, cost: number) => {
    const column = columnOf(lattice, t, net)
    if (column < 0 || column >= lattice.columns[t]!) return
    const level = walk.floatLimit > 0 ? Math.min(run, walk.floatLimit) - 1 : 0
    const stand = (walk.start + net) & 3
    const rest = toGo[(t - 1) * 4 * levels + ((stand >> 1) * 2 + turn) * levels + level]!
    if (rest === NEVER) return
    if (cost + rest > bound) {
      keptOut = Math.min(keptOut, cost + rest)
      return
    }
    const at = offsets[t]! + (column * 2 + turn) * levels + level
    if (cost < space.costFrom[at]!) space.costFrom[at] = cost
  }
  open(1, -1, 1)
  for (let turn = 0; turn < 2; turn++) enter(1, 1 - 2 * turn, turn, 1, stepCost(walk, 0, walk.start, turn, 1))
  for (let t = 1; t < picks; t++) {
    trim(lattice, t, space)
    if (lattice.columns[t] === 0) return { reached: false, keptOut }
    open(t + 1, lattice.lowest[t]! - 1, lattice.lowest[t]! + 2 * lattice.columns[t]! - 1)
    forEachState(lattice, t, (at, net, direction, level) => {
      const cost = space.costFrom[at]!
      if (cost === NEVER) return
      for (let turn = 0; turn < 2; turn++) {
        const run = turn === direction ? 2 : level + 2
        const step = stepCost(walk, t, (walk.start + net) & 3, turn, run)
        if (step === NEVER) continue
        enter(t + 1, net + 1 - 2 * turn, turn, run, cost + step + (turn === direction ? 0 : 1))
      }
    })
  }
  let cost = NEVER
  for (let at = offsets[picks]!; at < offsets[picks + 1]!; at++) cost = Math.min(cost, space.costFrom[at]!)
  return cost === NEVER ? { reached: false, keptOut } : { reached: true, lattice, cost }
}

/** Visits every state of a layer with its net turns (or one that stands alike), last direction and level. */
export function forEachState(
  lattice: Lattice,
  t: number,
  visit: (at: number, net: number, direction: number, level: number) => void,
): void {
  let at = lattice.offsets[t]!
  for (let column = 0; column < lattice.columns[t]!; column++) {
    const net = netOf(lattice, t, column)
    for (let direction = 0; direction < 2; direction++) {
      for (let level = 0; level < lattice.levels; level++) visit(at++, net, direction, level)
    }
  }
}

/** Takes off the columns at both ends of a layer that nothing reached: what was seen keeps most layers narrow. */
function trim({ walk, levels, offsets, lowest, columns }: Lattice, t: number, space: LatticeSpace): void {
  if (!walk.neutral) return
  const size = 2 * levels
  const isDead = (from: number) => {
    for (let at = from; at < from + size; at++) if (space.costFrom[at] !== NEVER) return false
    return true
  }
  while (columns[t]! > 0 && isDead(offsets[t + 1]! - size)) {
    offsets[t + 1]! -= size
    columns[t]!--
  }
  while (columns[t]! > 0 && isDead(offsets[t]!)) {
    offsets[t]! += size
    lowest[t]! += 2
    columns[t]!--
  }
}
