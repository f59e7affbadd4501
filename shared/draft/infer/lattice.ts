import { fillSteps, levelsOf, nextLevel, type Walk } from './walk.ts'

/** Most states of one tablet that are kept at once; 4,000 picks that must be neutral fit whatever was seen. Our own. */
const MOST_STATES = 1 << 24

/** A neutral turning of so long a repeat, with so much that does not fit, would take more memory than is given to it. */
export class LatticeTooLarge extends Error {}

/** Memory that is used again from tablet to tablet. */
export class LatticeSpace {
  /** The lattice that stands here: the last one that was spread. */
  stands: Lattice | undefined
  /** What `fillCostToGo` fills. */
  toGo = new Float64Array(1 << 14)
  /** State: which one it is in its layer. */
  keys = new Int32Array(1 << 14)
  /** State: least cost from the start. */
  costs = new Int32Array(1 << 14)
  /** State x 2: the state that a turn leads to, -1 for none. */
  next = new Int32Array(1 << 15)
  /** Key: the state of the newest layer that has it. */
  slots = new Int32Array(1 << 12)

  private readonly shelf: ArrayBuffer[] = []
  private lent = 0

  /** Everything that was lent is given back. */
  takeBack(): void {
    this.lent = 0
  }

  /** Whole numbers, all 0, until they are taken back. */
  lendWhole(length: number): Int32Array {
    return new Int32Array(this.lend(4 * length), 0, length).fill(0)
  }

  /** Numbers, all 0, until they are taken back. */
  lendNumbers(length: number): Float64Array {
    return new Float64Array(this.lend(8 * length), 0, length).fill(0)
  }

  private lend(bytes: number): ArrayBuffer {
    const at = this.lent++
    const there = this.shelf[at]
    return there && there.byteLength >= bytes ? there : (this.shelf[at] = new ArrayBuffer(Math.ceil(bytes / 4) * 6 + 8))
  }

  holdToGo(states: number): Float64Array {
    if (this.toGo.length < states) this.toGo = new Float64Array(states * 2)
    return this.toGo
  }

  holdKeys(keys: number): void {
    if (this.slots.length < keys) this.slots = new Int32Array(keys * 2)
  }

  hold(states: number): void {
    if (this.keys.length >= states) return
    if (states > MOST_STATES) throw new LatticeTooLarge()
    const size = Math.min(MOST_STATES, states * 2)
    const longer = (old: Int32Array, length: number) => {
      const grown = new Int32Array(length)
      grown.set(old)
      return grown
    }
    this.keys = longer(this.keys, size)
    this.costs = longer(this.costs, size)
    this.next = longer(this.next, 2 * size)
  }
}

/**
 * The states that a bound lets through, layer by layer; they stand in the `LatticeSpace`, those after t picks from
 * `offsets[t]` up to `offsets[t + 1]`. Layer 0 is the start alone. The key of a state is
 * `(ups * 2 + direction) * levels + level`, where ups is how many of the turns were forward: all of them when the
 * turning must be neutral, else only whether they are odd, which with t tells the stand.
 */
export interface Lattice {
  readonly walk: Walk
  readonly offsets: Int32Array
}

export type Spread =
  | { readonly reached: true; readonly lattice: Lattice; readonly cost: number }
  /** The least cost that the bound kept out; Infinity when nothing was kept out, so that there is no way at all. */
  | { readonly reached: false; readonly keptOut: number }

/**
 * Finds the least cost of a walk among those that cost no more than the bound.
 * @param price, toGo as `fillCostToGo` took and gave it for the same walk
 * @param bound states from which the end cannot be reached within it are left out
 * @throws LatticeTooLarge
 */
export function spread(walk: Walk, price: number, toGo: Float64Array, bound: number, space: LatticeSpace): Spread {
  const levels = levelsOf(walk)
  const { picks, start, neutral } = walk
  const mask = neutral ? -1 : 1
  const offsets = new Int32Array(picks + 2)
  offsets[1] = 1
  space.holdKeys(((neutral ? picks : 1) + 1) * 2 * levels)
  space.keys[0] = 0
  space.costs[0] = 0
  space.stands = undefined
  let keptOut = Infinity
  const steps = new Int32Array(8)
  const { slots } = space
  for (let t = 0; t < picks; t++) {
    fillSteps(walk, t, steps)
    const end = offsets[t + 1]!
    const left = picks - t - 1
    let free = end
    space.hold(end + 2 * (end - offsets[t]!))
    const { keys, costs, next } = space
    for (let state = offsets[t]!; state < end; state++) {
      const key = keys[state]!
      const lane = levels === 1 ? key : Math.floor(key / levels)
      const level = levels === 1 ? 0 : key - lane * levels
      const direction = lane & 1
      const ups = lane >> 1
      const stand = (start + 2 * ups - t) & 3
      for (let turn = 0; turn < 2; turn++) {
        next[2 * state + turn] = -1
        const nextUps = (ups + 1 - turn) & mask
        const net = neutral ? 2 * nextUps - t - 1 : 0
        if (net > left || net < -left) continue
        const isReversal = t > 0 && direction !== turn
        const onLevel = t === 0 ? 0 : nextLevel(walk, stand, turn, level, isReversal)
        if (onLevel < 0) continue
        const cost = costs[state]! + steps[stand * 2 + turn]! + (isReversal ? 1 : 0)
        const rest = toGo[(t * 4 + ((stand + 1 - 2 * turn) & 2) + turn) * levels + onLevel]!
        const whole = cost + rest + price * net
        if (whole > bound) {
          if (whole < keptOut) keptOut = whole
          continue
        }
        const nextKey = (nextUps * 2 + turn) * levels + onLevel
        let to = slots[nextKey]!
        // What an earlier layer or walk left in the slots is told by its place.
        if (to < end || to >= free || keys[to] !== nextKey) {
          to = free++
          slots[nextKey] = to
          keys[to] = nextKey
          costs[to] = cost
        } else if (cost < costs[to]!) costs[to] = cost
        next[2 * state + turn] = to
      }
    }
    if (free === end) return { reached: false, keptOut }
    offsets[t + 2] = free
  }
  let cost = Infinity
  for (let state = offsets[picks]!; state < offsets[picks + 1]!; state++) cost = Math.min(cost, space.costs[state]!)
  const lattice = (space.stands = { walk, offsets })
  return { reached: true, lattice, cost }
}
