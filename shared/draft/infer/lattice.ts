import { fillSteps, levelsOf, NEVER, nextLevel, type Walk } from './walk.ts'

/** Most states of one tablet that are kept at once; 4,000 picks that must be neutral fit whatever was seen. Our own. */
const MOST_STATES = 1 << 25

/** A neutral turning of so long a repeat, with so much that does not fit, would take more memory than is given to it. */
export class LatticeTooLarge extends Error {}

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
      throw new LatticeTooLarge()
    }
    const longer = new Int32Array(Math.min(MOST_STATES, states * 2))
    longer.set(this.costFrom)
    this.costFrom = longer
  }
}

/**
 * The states that a bound lets through, layer by layer. A layer is the states after so many picks: net turns (all of
 * them when the turning must be neutral, else only the stand that they lead to), last direction, level of the float.
 * State `offsets[t] + (column * 2 + direction) * levels + level`.
 */
export interface Lattice {
  readonly walk: Walk
  readonly levels: number
  /** Layer t begins at `offsets[t]`; layers count from 1. */
  readonly offsets: Int32Array
  /** Net turns of the first column of each layer; 0 without neutrality, where the two columns are stands. */
  readonly lowest: Int32Array
  readonly columns: Int32Array
}

export type Spread =
  | { readonly reached: true; readonly lattice: Lattice; readonly cost: number }
  /** The least cost that the bound kept out; NEVER when nothing was kept out, so that there is no way at all. */
  | { readonly reached: false; readonly keptOut: number }

/** The stand of a column of the layer after t picks. */
export function standOf({ walk, lowest }: Lattice, t: number, column: number): number {
  if (walk.neutral) return (walk.start + lowest[t]! + 2 * column) & 3
  return 2 * column + ((walk.start + t) & 1)
}

/** The column of layer t + 1 that a turn (0 forward, 1 back) leads to; it may lie outside. */
export function nextColumn({ walk, lowest }: Lattice, t: number, column: number, stand: number, turn: number): number {
  if (walk.neutral) return (lowest[t]! + 2 * column + 1 - 2 * turn - lowest[t + 1]!) >> 1
  return ((stand + 1 - 2 * turn) & 3) >> 1
}

/**
 * Finds the least cost of a walk among those that cost no more than the bound.
 * @param toGo as `fillCostToGo` gives it, for the same walk
 * @param bound states from which the end cannot be reached within it are left out
 */
export function spread(walk: Walk, toGo: Int32Array, bound: number, space: LatticeSpace): Spread {
  const levels = levelsOf(walk)
  const { picks } = walk
  const make = () => new Int32Array(picks + 2)
  const lattice: Lattice = { walk, levels, offsets: make(), lowest: make(), columns: make() }
  const { offsets, columns } = lattice
  // The start is a layer of one column; a first turn is a reversal of nothing.
  columns[0] = 1
  let keptOut = NEVER
  openLayer(lattice, 1, space)
  const steps = new Int32Array(8)
  for (let t = 0; t < picks; t++) {
    if (t > 0) {
      trim(lattice, t, space)
      if (columns[t] === 0) return { reached: false, keptOut }
      openLayer(lattice, t + 1, space)
    }
    fillSteps(walk, t, steps)
    const { costFrom } = space
    const next = offsets[t + 1]!
    const end = columns[t]!
    for (let column = 0; column < end; column++) {
      const stand = t === 0 ? walk.start : standOf(lattice, t, column)
      for (let turn = 0; turn < 2; turn++) {
        const to =
          t === 0 && !walk.neutral ? ((stand + 1 - 2 * turn) & 3) >> 1 : nextColumn(lattice, t, column, stand, turn)
        if (to < 0 || to >= columns[t + 1]!) continue
        const step = steps[stand * 2 + turn]!
        const toward = next + (to * 2 + turn) * levels
        const rests = (t * 4 + (((stand + 1 - 2 * turn) & 3) >> 1) * 2 + turn) * levels
        const least = restLeast(lattice, t + 1, to, turn)
        for (let direction = 0; direction < (t === 0 ? 1 : 2); direction++) {
          const isReversal = t > 0 && direction !== turn
          const at = t === 0 ? -1 : offsets[t]! + (column * 2 + direction) * levels
          for (let level = 0; level < (t === 0 ? 1 : levels); level++) {
            const before = t === 0 ? 0 : costFrom[at + level]!
            if (before === NEVER) continue
            const onLevel = t === 0 ? 0 : nextLevel(walk, stand, turn, level, isReversal)
            if (onLevel < 0) continue
            const cost = before + step + (isReversal ? 1 : 0)
            const rest = toGo[rests + onLevel]!
            if (rest === NEVER) continue
            const whole = cost + (rest > least ? rest : least)
            if (whole > bound) {
              if (whole < keptOut) keptOut = whole
            } else if (cost < costFrom[toward + onLevel]!) costFrom[toward + onLevel] = cost
          }
        }
      }
    }
  }
  let cost = NEVER
  const last = offsets[picks]!
  for (let at = last; at < last + columns[picks]! * 2 * levels; at++) cost = Math.min(cost, space.costFrom[at]!)
  return cost === NEVER ? { reached: false, keptOut } : { reached: true, lattice, cost }
}

/** Unless a neutral turning can go straight on to its end from here, it must reverse once more at least. */
function restLeast({ walk, lowest }: Lattice, t: number, column: number, turn: number): number {
  if (!walk.neutral) return 0
  return lowest[t]! + 2 * column + (1 - 2 * turn) * (walk.picks - t) === 0 ? 0 : 1
}

function openLayer({ walk, levels, offsets, lowest, columns }: Lattice, t: number, space: LatticeSpace): void {
  const limit = walk.picks - t
  const low = lowest[t - 1]! - 1
  const high = lowest[t - 1]! + 2 * columns[t - 1]! - 1
  if (walk.neutral) lowest[t] = Math.max(low, -limit)
  columns[t] = walk.neutral ? Math.max(0, (Math.min(high, limit) - lowest[t]!) / 2 + 1) : 2
  offsets[t + 1] = offsets[t]! + columns[t]! * 2 * levels
  space.hold(offsets[t + 1]!)
  space.costFrom.fill(NEVER, offsets[t]!, offsets[t + 1]!)
}

/** Takes off the columns at both ends of a layer that nothing reached: what was seen keeps most layers narrow. */
function trim({ walk, levels, offsets, lowest, columns }: Lattice, t: number, { costFrom }: LatticeSpace): void {
  if (!walk.neutral) return
  const size = 2 * levels
  const isDead = (from: number) => {
    for (let at = from; at < from + size; at++) if (costFrom[at] !== NEVER) return false
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
