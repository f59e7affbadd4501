/*
 * One tablet's repeat as a walk. Its four stands (the hole at top-near, 0 to 3) lie in a ring; forward goes from stand p
 * to p + 1, back from p + 1 to p, and either way the thread of hole p crosses the top and shows. So the holes are the
 * edges of the ring, and to find a turning is to find a walk whose edges have the colours that were seen.
 *
 * The thread that shows is also the one that stays on top through the pick, and the hole opposite stays below. Going on
 * in the same direction hands this over to the next hole, so its float is 2 again; a reversal keeps it, so its float
 * grows by one. Every other float is shorter. In the first pick all floats are 1, and there is no reversal.
 */

/** More than any cost; two of them still fit 32 bits. */
export const NEVER = 0x3fffffff

/** What one tablet must do and what it costs. */
export interface Walk {
  readonly picks: number
  /** Stand before the first pick, 0 to 3. */
  readonly start: number
  /** For each hole its column in `colourCost`. */
  readonly holes: readonly number[]
  /** Columns of `colourCost`. */
  readonly kinds: number
  /** Picks x kinds: what it costs that a pick shows this colour. */
  readonly colourCost: Int32Array
  /** Picks x 2: what it costs that a pick turns forward (0) or back (1). */
  readonly slantCost: Int32Array
  /** Longest float allowed, 0 for any. */
  readonly floatLimit: number
  /** For each hole: whether it or the one opposite has a thread, so that its float counts. */
  readonly floats: readonly boolean[]
  readonly closes: boolean
  readonly neutral: boolean
}

/** How many lengths of float must be told apart: one when there is no limit. */
export const levelsOf = ({ floatLimit }: Walk): number => Math.max(1, floatLimit)

/**
 * The least cost from every state to the end, but for twist: a turning that must be neutral is only asked to close
 * here, so that the figure is exact without that wish and never too high with it.
 * State after t picks: stand (its parity follows from t), last direction, level of the float.
 * @param into receives picks x 4 x levels costs, NEVER where the end cannot be reached
 * @returns the cost from the start; NEVER when nothing meets what is required
 * Source: our own.
 */
export function fillCostToGo(walk: Walk, into: Int32Array): number {
  const { picks, start, floatLimit } = walk
  const levels = levelsOf(walk)
  const layer = 4 * levels
  const ring = walk.closes || walk.neutral
  for (let t = picks; t >= 1; t--) {
    const parity = (start + t) & 1
    for (let state = 0; state < layer; state++) {
      const level = state % levels
      const direction = ((state / levels) | 0) & 1
      const stand = 2 * ((state / levels) >> 1) + parity
      const at = (t - 1) * layer + state
      if (t === picks) {
        into[at] = ring && stand !== start ? NEVER : 0
        continue
      }
      let best = NEVER
      for (let turn = 0; turn < 2; turn++) {
        const run = turn === direction ? 2 : level + 2
        const cost = stepCost(walk, t, stand, turn, run)
        if (cost === NEVER) continue
        const nextLevel = floatLimit > 0 ? Math.min(run, floatLimit) - 1 : 0
        const next = into[t * layer + nextState(stand, turn, levels) + nextLevel]!
        const sum = next === NEVER ? NEVER : cost + next + (turn === direction ? 0 : 1)
        if (sum < best) best = sum
      }
      into[at] = best
    }
  }
  let best = NEVER
  for (let turn = 0; turn < 2; turn++) {
    const next = into[nextState(start, turn, levels)]!
    if (next !== NEVER) best = Math.min(best, next + stepCost(walk, 0, start, turn, 1))
  }
  return best
}

/** What a turn costs by what it shows, NEVER when the float gets too long; a reversal is not counted here. */
export function stepCost(walk: Walk, pick: number, stand: number, turn: number, run: number): number {
  const edge = (stand - turn) & 3
  if (run > walk.floatLimit && walk.floatLimit > 0 && walk.floats[edge]!) return NEVER
  return walk.colourCost[pick * walk.kinds + walk.holes[edge]!]! + walk.slantCost[pick * 2 + turn]!
}

/** Where the states of the next stand and this direction begin within their layer. */
function nextState(stand: number, turn: number, levels: number): number {
  return ((((stand + 1 - 2 * turn) & 3) >> 1) * 2 + turn) * levels
}
