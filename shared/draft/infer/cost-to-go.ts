import { fillSteps, levelsOf, type Walk } from './walk.ts'

/**
 * The least cost from every state to the end, but for twist: a turning that must be neutral is only asked to close
 * here, so that the figure is exact without that wish and never too high with it. Instead, net turns can be given a
 * price, which is paid for each turn forward and paid back for each turn back; a neutral turning pays nothing in all.
 * State after t picks: stand (its parity follows from t), last direction, level of the float.
 * @param price of a quarter turn forward, a multiple of 1/1024, so that every sum is exact; 0 for none
 * @param into receives picks x 4 x levels costs, Infinity where the end cannot be reached
 * @returns the cost from the start; Infinity when nothing meets what is required
 * Source: our own; the price is a Lagrange multiplier of the wish that the net be 0.
 */
export function fillCostToGo(walk: Walk, price: number, into: Float64Array): number {
  const { picks, start } = walk
  const levels = levelsOf(walk)
  const layer = 4 * levels
  const ring = walk.closes || walk.neutral
  const lastParity = (start + picks) & 1
  for (let state = 0; state < layer; state++) {
    const stand = 2 * Math.floor(state / (2 * levels)) + lastParity
    into[(picks - 1) * layer + state] = ring && stand !== start ? Infinity : 0
  }
  const steps = new Int32Array(8)
  for (let t = picks - 1; t >= 1; t--) {
    fillSteps(walk, t, steps)
    const parity = (start + t) & 1
    if (walk.floatLimit === 0) fillLayer(steps, price, parity, t * 4, into)
    else fillLayerByFloat(walk, steps, price, parity, t, into)
  }
  fillSteps(walk, 0, steps)
  const forward = steps[start * 2]! + price + into[(((start + 1) & 3) >> 1) * 2 * levels]!
  const back = steps[start * 2 + 1]! - price + into[((((start + 3) & 3) >> 1) * 2 + 1) * levels]!
  return Math.min(forward, back)
}

/** @param next where the layer after this one begins */
function fillLayer(steps: Int32Array, price: number, parity: number, next: number, into: Float64Array): void {
  for (let stand = parity; stand < 4; stand += 2) {
    const forward = steps[stand * 2]! + price + into[next + ((stand + 1) & 2)]!
    const back = steps[stand * 2 + 1]! - price + into[next + ((stand + 3) & 2) + 1]!
    const at = next - 4 + (stand & 2)
    into[at] = forward < back + 1 ? forward : back + 1
    into[at + 1] = back < forward + 1 ? back : forward + 1
  }
}

function fillLayerByFloat(
  walk: Walk,
  steps: Int32Array,
  price: number,
  parity: number,
  t: number,
  into: Float64Array,
): void {
  const limit = walk.floatLimit
  for (let stand = parity; stand < 4; stand += 2) {
    for (let turn = 0; turn < 2; turn++) {
      const counts = walk.floats[(stand - turn) & 3]!
      const step = steps[stand * 2 + turn]! + price - 2 * turn * price
      const next = (t * 4 + (((stand + 1 - 2 * turn) & 3) >> 1) * 2 + turn) * limit
      const same = ((t - 1) * 4 + (stand >> 1) * 2 + turn) * limit
      const other = ((t - 1) * 4 + (stand >> 1) * 2 + 1 - turn) * limit
      const on = limit > 1 ? step + into[next + 1]! : counts ? Infinity : step + into[next]!
      // Forward comes first and lays its costs down, back takes the lesser.
      for (let level = 0; level < limit; level++) {
        const longer = level + 1
        const back =
          longer < limit ? step + 1 + into[next + longer]! : counts ? Infinity : step + 1 + into[next + limit - 1]!
        if (turn === 0) {
          into[same + level] = on
          into[other + level] = back
        } else {
          if (on < into[same + level]!) into[same + level] = on
          if (back < into[other + level]!) into[other + level] = back
        }
      }
    }
  }
}

/**
 * The least cost from each start when neither twist nor closing nor floats matter: never more than the real one, and
 * found for all four starts at once.
 * @param into receives four costs, by start
 */
export function fillFreeCosts(
  { picks, kinds, colourCost, slantCost, holes }: Pick<Walk, 'picks' | 'kinds' | 'colourCost' | 'slantCost' | 'holes'>,
  into: Int32Array,
): void {
  const [hole0, hole1, hole2, hole3] = holes as [number, number, number, number]
  // By stand: the cost to the end after a turn forward, and after one back.
  let [f0, f1, f2, f3, b0, b1, b2, b3] = [0, 0, 0, 0, 0, 0, 0, 0]
  for (let t = picks - 1; t >= 0; t--) {
    const at = t * kinds
    const e0 = colourCost[at + hole0]!
    const e1 = colourCost[at + hole1]!
    const e2 = colourCost[at + hole2]!
    const e3 = colourCost[at + hole3]!
    const forward = slantCost[2 * t]!
    const back = slantCost[2 * t + 1]!
    const to0 = e0 + forward + f1
    const to1 = e1 + forward + f2
    const to2 = e2 + forward + f3
    const to3 = e3 + forward + f0
    const from0 = e3 + back + b3
    const from1 = e0 + back + b0
    const from2 = e1 + back + b1
    const from3 = e2 + back + b2
    const turned = t > 0 ? 1 : 0
    f0 = Math.min(to0, from0 + turned)
    f1 = Math.min(to1, from1 + turned)
    f2 = Math.min(to2, from2 + turned)
    f3 = Math.min(to3, from3 + turned)
    b0 = Math.min(from0, to0 + turned)
    b1 = Math.min(from1, to1 + turned)
    b2 = Math.min(from2, to2 + turned)
    b3 = Math.min(from3, to3 + turned)
  }
  into[0] = f0
  into[1] = f1
  into[2] = f2
  into[3] = f3
}
