import { columnOf, forEachState, type Lattice, type LatticeSpace } from './lattice.ts'
import { NEVER, stepCost } from './walk.ts'

/**
 * Every step that some best turning takes, in the order of the picks. Places are numbered from 0, the start; every
 * path from there along the steps is one best turning, and every best turning is one such path.
 */
export interface BestWays {
  readonly picks: number
  readonly places: number
  readonly from: readonly number[]
  readonly to: readonly number[]
  /** 1 forward, -1 back. */
  readonly turn: readonly number[]
  /** The hole that shows. */
  readonly hole: readonly number[]
  /** Steps of pick p, from 0, are those from `begins[p]` up to `begins[p + 1]`. */
  readonly begins: readonly number[]
}

/**
 * Keeps of a lattice what lies on a best walk: the costs to the end are worked out backward, and a step is kept when
 * the cost before it, its own and the cost after it make up the best.
 * @param best the cost that `spread` found
 * Source: our own; forward and backward costs as in any shortest-path lattice.
 */
export function bestWays(lattice: Lattice, best: number, space: LatticeSpace): BestWays {
  fillCostTo(lattice, space)
  const ways = { from: [] as number[], to: [] as number[], turn: [] as number[], hole: [] as number[], begins: [0] }
  const { walk } = lattice
  let named = 1
  let layer = new Map<number, number>([[-1, 0]])
  for (let pick = 0; pick < walk.picks; pick++) {
    const next = new Map<number, number>()
    const take = (from: number, cost: number, net: number, direction: number, level: number) => {
      for (let turn = 0; turn < 2; turn++) {
        const step = findStep(lattice, pick, net, direction, level, turn)
        if (step.at < 0 || space.costTo[step.at] === NEVER || cost + step.cost + space.costTo[step.at]! !== best)
          continue
        if (!next.has(step.at)) next.set(step.at, named++)
        ways.from.push(from)
        ways.to.push(next.get(step.at)!)
        ways.turn.push(1 - 2 * turn)
        ways.hole.push((walk.start + net - turn) & 3)
      }
    }
    if (pick === 0) take(0, 0, 0, -1, 0)
    else {
      forEachState(lattice, pick, (at, net, direction, level) => {
        const from = layer.get(at)
        if (from !== undefined) take(from, space.costFrom[at]!, net, direction, level)
      })
    }
    layer = next
    ways.begins.push(ways.from.length)
  }
  return { picks: walk.picks, places: named, ...ways }
}

function fillCostTo(lattice: Lattice, space: LatticeSpace): void {
  const { walk, offsets, columns, levels } = lattice
  const { picks } = walk
  const states = offsets[picks]! + columns[picks]! * 2 * levels
  if (space.costTo.length < states) space.costTo = new Int32Array(space.costFrom.length)
  forEachState(lattice, picks, (at) => (space.costTo[at] = space.costFrom[at] === NEVER ? NEVER : 0))
  for (let t = picks - 1; t >= 1; t--) {
    forEachState(lattice, t, (at, net, direction, level) => {
      let least = NEVER
      if (space.costFrom[at] !== NEVER) {
        for (let turn = 0; turn < 2; turn++) {
          const step = findStep(lattice, t, net, direction, level, turn)
          if (step.at >= 0 && space.costTo[step.at] !== NEVER)
            least = Math.min(least, step.cost + space.costTo[step.at]!)
        }
      }
      space.costTo[at] = least
    })
  }
}

/** Where a turn at this pick (from 0) leads and what it costs, its reversal included; `at` is -1 where it leads nowhere. */
function findStep(
  lattice: Lattice,
  pick: number,
  net: number,
  direction: number,
  level: number,
  turn: number,
): { at: number; cost: number } {
  const { walk, levels } = lattice
  const run = direction < 0 ? 1 : turn === direction ? 2 : level + 2
  const cost = stepCost(walk, pick, (walk.start + net) & 3, turn, run)
  const column = columnOf(lattice, pick + 1, net + 1 - 2 * turn)
  if (cost === NEVER || column < 0 || column >= lattice.columns[pick + 1]!) return { at: -1, cost: NEVER }
  const nextLevel = walk.floatLimit > 0 ? Math.min(run, walk.floatLimit) - 1 : 0
  const at = lattice.offsets[pick + 1]! + (column * 2 + turn) * levels + nextLevel
  return { at, cost: cost + (direction >= 0 && turn !== direction ? 1 : 0) }
}
