/*
 * One tablet's repeat as a walk. Its four stands (the hole at top-near, 0 to 3) lie in a ring; forward goes from stand p
 * to p + 1, back from p + 1 to p, and either way the thread of hole p crosses the top and shows. So the holes are the
 * edges of the ring, and to find a turning is to find a walk whose edges have the colours that were seen.
 *
 * The thread that shows is also the one that stays on top through the pick, and the hole opposite stays below. Going on
 * in the same direction hands this over to the next hole, so its float is 2 again; a reversal keeps it, so its float
 * grows by one. Every other float is shorter. In the first pick all floats are 1, and there is no reversal.
 */

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

/** What each turn costs at a pick, by stand and turn: `[stand * 2 + turn]`, forward first. */
export function fillSteps(walk: Walk, pick: number, into: Int32Array): void {
  const { colourCost, holes, slantCost } = walk
  const at = pick * walk.kinds
  const forward = slantCost[pick * 2]!
  const back = slantCost[pick * 2 + 1]!
  for (let hole = 0; hole < 4; hole++) {
    const colour = colourCost[at + holes[hole]!]!
    into[hole * 2] = colour + forward
    into[((hole + 1) & 3) * 2 + 1] = colour + back
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
