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
  const { picks, start } = walk
  const levels = levelsOf(walk)
  const layer = 4 * levels
  const ring = walk.closes || walk.neutral
  const lastParity = (start + picks) & 1
  for (let state = 0; state < layer; state++) {
    const stand = 2 * Math.floor(state / (2 * levels)) + lastParity
    into[(picks - 1) * layer + state] = ring && stand !== start ? NEVER : 0
  }
  for (let t = picks - 1; t >= 1; t--) {
    const parity = (start + t) & 1
    for (let half = 0; half < 2; half++) {
      const stand = 2 * half + parity
      for (let direction = 0; direction < 2; direction++) {
        const at = (t - 1) * layer + (half * 2 + direction) * levels
        const on = stepAndRest(walk, into, t, stand, direction, 2)
        for (let level = 0; level < levels; level++) {
          const back = stepAndRest(walk, into, t, stand, 1 - direction, level + 2) + 1
          into[at + level] = on < back ? on : back > NEVER ? NEVER : back
        }
      }
    }
  }
  return Math.min(stepAndRest(walk, into, 0, start, 0, 1), stepAndRest(walk, into, 0, start, 1, 1))
}

/** What a turn costs and what is left after it, without a reversal; NEVER when the end cannot be reached. */
function stepAndRest(walk: Walk, toGo: Int32Array, pick: number, stand: number, turn: number, run: number): number {
  const limit = walk.floatLimit
  const edge = (stand - turn) & 3
  let level = 0
  if (limit > 0) {
    if (run > limit && walk.floats[edge]!) return NEVER
    level = (run < limit ? run : limit) - 1
  }
  const levels = limit > 1 ? limit : 1
  const next = (((stand + 1 - 2 * turn) & 3) >> 1) * 2 + turn
  const rest = toGo[(pick * 4 + next) * levels + level]!
  if (rest === NEVER) return NEVER
  return rest + walk.colourCost[pick * walk.kinds + walk.holes[edge]!]! + walk.slantCost[pick * 2 + turn]!
}

/** What each turn costs at a pick, by stand and turn: `[stand * 2 + turn]`, forward first. */
export function fillSteps(walk: Walk, pick: number, into: Int32Array): void {
  for (let stand = 0; stand < 4; stand++) {
    for (let turn = 0; turn < 2; turn++) {
      const colour = walk.colourCost[pick * walk.kinds + walk.holes[(stand - turn) & 3]!]!
      into[stand * 2 + turn] = colour + walk.slantCost[pick * 2 + turn]!
    }
  }
}

/**
 * The level of the float after a turn; -1 when the float is longer than allowed.
 * @param level before the turn; with `isReversal` it grows by one, else the float is 2
 */
export function nextLevel(walk: Walk, stand: number, turn: number, level: number, isReversal: boolean): number {
  const limit = walk.floatLimit
  if (limit === 0) return 0
  const run = isReversal ? level + 2 : 2
  if (run <= limit) return run - 1
  return walk.floats[(stand - turn) & 3]! ? -1 : limit - 1
}
