import { fillCostToGo } from './cost-to-go.ts'
import { type LatticeSpace, spread } from './lattice.ts'
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
 * @returns floor Infinity when nothing meets what is required
 * Source: our own; the maximum of a concave function by its tangents, where two of them cross.
 */
export function findPrice(walk: Walk, space: LatticeSpace): Priced {
  const toGo = space.holdToGo(walk.picks * 4 * levelsOf(walk))
  let floor = fillCostToGo(walk, 0, toGo)
  if (!walk.neutral || floor === Infinity) return { price: 0, floor }
  let line = lineAlong(walk, 0, toGo)
  if (line.net === 0) return { price: 0, floor }
  // `ahead` has turned too far forward, `behind` too far back; the price is between the two at which they were found.
  let ahead: Line | undefined
  let behind: Line | undefined
  let price = 0
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    if (line.net > 0) ahead = line
    else behind = line
    const next = nextPrice(ahead, behind, price)
    if (next === price || Math.abs(next) > 4 * walk.picks) break
    price = next
    floor = fillCostToGo(walk, price, toGo)
    line = lineAlong(walk, price, toGo)
    if (line.net === 0) break
    if (ahead && behind && floor >= ahead.cost + price * ahead.net && floor >= behind.cost + price * behind.net) break
  }
  return { price, floor }
}

function nextPrice(ahead: Line | undefined, behind: Line | undefined, price: number): number {
  if (ahead && behind) return Math.round((behind.cost - ahead.cost) / (ahead.net - behind.net) / GRAIN) * GRAIN
  const further = price === 0 ? 1 : 4 * Math.abs(price)
  return ahead ? further : -further
}

/** The cost and the net of one walk that is best at a price. */
function lineAlong(walk: Walk, price: number, toGo: Float64Array): Line {
  const levels = levelsOf(walk)
  const steps = new Int32Array(8)
  let [stand, direction, level, cost, net] = [walk.start, 0, 0, 0, 0]
  for (let t = 0; t < walk.picks; t++) {
    fillSteps(walk, t, steps)
    let least = Infinity
    let chosen = { turn: 0, level: 0, cost: 0 }
    for (let turn = 0; turn < 2; turn++) {
      const isReversal = t > 0 && turn !== direction
      const onLevel = t === 0 ? 0 : nextLevel(walk, stand, turn, level, isReversal)
      if (onLevel < 0) continue
      const own = steps[stand * 2 + turn]! + (isReversal ? 1 : 0)
      const rest = toGo[(t * 4 + ((stand + 1 - 2 * turn) & 2) + turn) * levels + onLevel]!
      const whole = own + price * (1 - 2 * turn) + rest
      // Of two as good, the one that comes nearer to neutral.
      if (whole > least || (whole === least && net <= 0)) continue
      least = whole
      chosen = { turn, level: onLevel, cost: own }
    }
    cost += chosen.cost
    net += 1 - 2 * chosen.turn
    stand = (stand + 1 - 2 * chosen.turn) & 3
    direction = chosen.turn
    level = chosen.level
  }
  return { cost, net }
}

/**
 * The least cost of a walk, exact where it is no more than `atMost`; more than that, or Infinity, where it is not. What
 * is looked at grows by steps, for a neutral turning is mostly hardly dearer than its price says.
 */
export function leastNeutralCost(walk: Walk, atMost: number, space: LatticeSpace): number {
  const { price, floor } = findPrice(walk, space)
  let bound = Math.ceil(floor)
  for (let more = 2; bound <= atMost; more *= 4) {
    const found = spread(walk, price, space.toGo, bound, space)
    if (found.reached) return found.cost
    if (found.keptOut === Infinity) return Infinity
    bound = Math.max(Math.ceil(found.keptOut), Math.min(atMost, Math.ceil(floor) + more))
  }
  return bound
}
