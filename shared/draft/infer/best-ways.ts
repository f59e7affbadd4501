import { type Lattice, type LatticeSpace, nextColumn, standOf } from './lattice.ts'
import { fillSteps, NEVER, nextLevel } from './walk.ts'

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
  fillCostTo(lattice, best, space)
  const ways = { from: [] as number[], to: [] as number[], turn: [] as number[], hole: [] as number[], begins: [0] }
  const { walk, levels, offsets } = lattice
  const { costFrom, costTo } = space
  const steps = new Int32Array(8)
  let named = 1
  let layer = new Map<number, number>([[0, 0]])
  for (let t = 0; t < walk.picks; t++) {
    fillSteps(walk, t, steps)
    const next = new Map<number, number>()
    for (const [state, place] of layer) {
      const level = state % levels
      const direction = Math.floor(state / levels) & 1
      const column = Math.floor(state / (2 * levels))
      const stand = t === 0 ? walk.start : standOf(lattice, t, column)
      const before = t === 0 ? 0 : costFrom[offsets[t]! + state]!
      for (let turn = 0; turn < 2; turn++) {
        const isReversal = t > 0 && direction !== turn
        const to = stateAfter(lattice, t, column, stand, turn, t === 0 ? -1 : level, isReversal)
        if (to < 0) continue
        const after = costTo[offsets[t + 1]! + to]!
        if (after === NEVER || before + steps[stand * 2 + turn]! + (isReversal ? 1 : 0) + after !== best) continue
        if (!next.has(to)) next.set(to, named++)
        ways.from.push(place)
        ways.to.push(next.get(to)!)
        ways.turn.push(1 - 2 * turn)
        ways.hole.push((stand - turn) & 3)
      }
    }
    layer = next
    ways.begins.push(ways.from.length)
  }
  return { picks: walk.picks, places: named, ...ways }
}

/** The state of the next layer that a turn leads to, counted from where that layer begins; -1 when there is none. */
function stateAfter(
  lattice: Lattice,
  t: number,
  column: number,
  stand: number,
  turn: number,
  level: number,
  isReversal: boolean,
): number {
  const { walk, levels, columns } = lattice
  const to = nextColumn(lattice, t, column, stand, turn)
  // Before the first turn there is no float yet, and after it all are 1.
  const onLevel = level < 0 ? 0 : nextLevel(walk, stand, turn, level, isReversal)
  if (to < 0 || to >= columns[t + 1]! || onLevel < 0) return -1
  return (to * 2 + turn) * levels + onLevel
}

function fillCostTo(lattice: Lattice, best: number, space: LatticeSpace): void {
  const { walk, offsets, columns, levels } = lattice
  const { picks } = walk
  const { costFrom } = space
  const last = offsets[picks]! + columns[picks]! * 2 * levels
  if (space.costTo.length < last) space.costTo = new Int32Array(costFrom.length)
  const { costTo } = space
  for (let at = offsets[picks]!; at < last; at++) costTo[at] = costFrom[at] === best ? 0 : NEVER
  const steps = new Int32Array(8)
  for (let t = picks - 1; t >= 1; t--) {
    fillSteps(walk, t, steps)
    const next = offsets[t + 1]!
    for (let column = 0, at = offsets[t]!; column < columns[t]!; column++) {
      const stand = standOf(lattice, t, column)
      for (let direction = 0; direction < 2; direction++) {
        for (let level = 0; level < levels; level++, at++) {
          costTo[at] = NEVER
          const before = costFrom[at]!
          if (before === NEVER) continue
          let least = NEVER
          for (let turn = 0; turn < 2; turn++) {
            const isReversal = direction !== turn
            const to = stateAfter(lattice, t, column, stand, turn, level, isReversal)
            if (to < 0 || costTo[next + to] === NEVER) continue
            const cost = costTo[next + to]! + steps[stand * 2 + turn]! + (isReversal ? 1 : 0)
            if (cost < least) least = cost
          }
          if (before + least === best) costTo[at] = least
        }
      }
    }
  }
}
