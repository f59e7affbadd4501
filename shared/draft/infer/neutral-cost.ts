import { fillCostToGo } from './cost-to-go.ts'
import { type Lattice, type LatticeSpace, spread } from './lattice.ts'
import { fillSteps, levelsOf, nextLevel, type Walk } from './walk.ts'

/** Prices are multiples of this, so that sums with them are exact. */
const GRAIN = 1 / 1024
const MOST_TRIES = 24

/** A price of net turns, and what a neutral turning costs at least by it. */
export interface Priced {
  readonly price: number
  readonly floor: number
}

/** A line under the least cost: the cost of one walk and its net turns. */
interface Line {
  readonly cost: number
  readonly net: number
}

/**
 * The price of net turns that bounds the cost of a neutral turning best: at a price at which walks with more turns
 * forward cost as much as walks with more turns back. Leaves `space.toGo` filled at that price.
 * @param atMost where the cost is found to be more than this, any price will do that shows it
 * @param guess tried first
 * @returns floor Infinity when nothing meets what is required
 * Source: our own; the maximum of a concave function by its tangents, where two of them cross.
 */
export function findPrice(walk: Walk, atMost: number, guess: number, space: LatticeSpace): Priced {
  const toGo = space.holdToGo(walk.picks * 4 * levelsOf(walk))
  // `ahead` has turned too far forward, `behind` too far back; the price is between the two at which they were found.
  let ahead: Line | undefined
  let behind: Line | undefined
  let price = walk.neutral ? guess : 0
  for (let tries = 0; ; tries++) {
    const floor = fillCostToGo(walk, price, toGo)
    if (!walk.neutral || floor > atMost || tries === MOST_TRIES) return { price, floor }
    const line = lineAlong(walk, price, toGo)
    const isBetween = ahead && behind && floor >= heightOf(ahead, price) && floor >= heightOf(behind, price)
    if (line.net === 0 || isBetween) return { price, floor }
    if (line.net > 0) ahead = line
    else behind = line
    const next = nextPrice(ahead, behind, price)
    if (next === price || Math.abs(next) > 4 * walk.picks) return { price, floor }
    price = next
  }
}

const heightOf = ({ cost, net }: Line, price: number) => cost + price * net

function nextPrice(ahead: Line | undefined, behind: Line | undefined, price: number): number {
  if (ahead && behind) return Math.round((behind.cost - ahead.cost) / (ahead.net - behind.net) / GRAIN) * GRAIN
  // Away from the line that is there: first back toward 0, then past it.
  const up = price < -1 ? price / 4 : price < 1 ? 1 : 4 * price
  const down = price > 1 ? price / 4 : price > -1 ? -1 : 4 * price
  return Math.round((ahead ? up : down) / GRAIN) * GRAIN
}

/** The cost and the net of one walk that is best at a price. */
function lineAlong(walk: Walk, price: number, toGo: Float64Array): Line {
  const levels = levelsOf(walk)
  const steps = new Int32Array(8)
  let [stand, direction, level, cost, net] = [walk.start, 0, 0, 0, 0]
  for (let t = 0; t < walk.picks; t++) {
    fillSteps(walk, t, steps)
    let least = Infinity
    let [turned, onLevel] = [0, 0]
    for (let turn = 0; turn < 2; turn++) {
      const isReversal = t > 0 && turn !== direction
      const reached = t === 0 ? 0 : nextLevel(walk, stand, turn, level, isReversal)
      if (reached < 0) continue
      const rest = toGo[(t * 4 + ((stand + 1 - 2 * turn) & 2) + turn) * levels + reached]!
      const whole = steps[stand * 2 + turn]! + (isReversal ? 1 : 0) + price * (1 - 2 * turn) + rest
      // Of two as good, the one that comes nearer to neutral.
      if (whole > least || (whole === least && net <= 0)) continue
      least = whole
      turned = turn
      onLevel = reached
    }
    cost += steps[stand * 2 + turned]! + (t > 0 && turned !== direction ? 1 : 0)
    net += 1 - 2 * turned
    stand = (stand + 1 - 2 * turned) & 3
    direction = turned
    level = onLevel
  }
  return { cost, net }
}

/**
 * The least cost of a walk, exact where it is no more than `atMost`; more than that, or Infinity, where it is not. What
 * is looked at grows by steps, for a neutral turning is mostly hardly dearer than its price says.
 * @param guess of the price of net turns
 */
export function leastNeutralCost(walk: Walk, atMost: number, guess: number, space: LatticeSpace): Least {
  const { price, floor } = findPrice(walk, atMost, guess, space)
  let bound = Math.ceil(floor)
  for (let more = 1; bound <= atMost; more *= 4) {
    const found = spread(walk, price, space.toGo, bound, space)
    if (found.reached) return { cost: found.cost, price, lattice: found.lattice }
    if (found.keptOut === Infinity) return { cost: Infinity, price, lattice: undefined }
    bound = Math.max(Math.ceil(found.keptOut), Math.min(atMost, Math.ceil(floor) + more))
  }
  return { cost: bound, price, lattice: undefined }
}

/** A cost, the price of net turns by which it was found, and the lattice where it was reached. */
export interface Least {
  readonly cost: number
  readonly price: number
  readonly lattice: Lattice | undefined
}
