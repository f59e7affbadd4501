import { type Hole, HOLES, type Tablet } from '../draft.ts'
import { bestWays, type BestWays } from './best-ways.ts'
import {
  type Choice,
  chooseThreading,
  type Frame,
  listDistinctStarts,
  looksAlike,
  looksMirrored,
  toFrame,
  toWalk,
} from './choose-threading.ts'
import { paletteOf, type TabletTask } from './column.ts'
import { type Begin, type Differing, tallyWays } from './differing.ts'
import { type HoleChoice, rotateHoles } from './hole-choices.ts'
import { type LatticeSpace, spread } from './lattice.ts'
import { findPrice } from './neutral-cost.ts'

/** The best that can be said of one tablet. */
export interface TabletSolution extends Differing {
  readonly threading: Tablet['threading']
  /** Whether the other threading would explain what was seen as well. */
  readonly threadingIsOpen: boolean
  readonly holes: Tablet['holes']
  readonly start: Hole
  /** A quarter turn a pick: 1 forward, -1 back. */
  readonly turns: Int8Array
  readonly mismatches: number
  readonly reversals: number
}

/**
 * Finds the turning of one tablet with the fewest mismatches, then the fewest reversals, over every start, threading
 * and filling of the holes that is not known, and counts how many (start, turning) choices are as good.
 * @returns undefined when no turning at all meets what is required
 * Source: our own.
 */
export function solveTablet(task: TabletTask, space: LatticeSpace): TabletSolution | undefined {
  space.takeBack()
  const palette = paletteOf(task)
  const frame = toFrame(task, palette, space)
  const best = chooseThreading(frame)
  if (!best) return undefined
  const { begins, holes } = listBegins(frame, best)
  const first = begins[0]!
  const keyOf = (hole: number) => palette.keys[holes[hole]!] ?? null
  const shown = HOLES.map((_, hole) => keyOf(hole) ?? task.weft ?? null)
  const isTold = frame.hasSlants && !best.isTied
  const mismatch = task.cells.length
  return {
    threading: best.threading,
    threadingIsOpen: task.known.threading === null && !isTold,
    holes: [keyOf(0), keyOf(1), keyOf(2), keyOf(3)],
    start: HOLES[first.start]!,
    turns: firstWay(first.ways),
    mismatches: Math.floor(best.cost / mismatch),
    reversals: best.cost % mismatch,
    ...tallyWays(begins, { task, shown, space, slantTells: task.known.threading !== null || isTold }),
  }
}

/** Every start from which the best can be reached. With nothing known of holes and start, the first of them becomes A. */
function listBegins(frame: Frame, best: Choice): { holes: HoleChoice; begins: readonly Begin[] } {
  const { task, starts, space, threadings, hasSlants } = frame
  const at = threadings.findIndex(({ threading }) => threading === best.threading)
  const isFree = task.known.holes === null && task.known.start === null
  const holes = isFree ? rotateHoles(best.holes, best.start) : best.holes
  const chosen = isFree ? 0 : best.start
  const findWays = (start: number): BestWays | undefined => {
    const walk = toWalk(frame, at, holes, start)
    if (start === chosen && best.lattice && best.lattice === space.stands)
      return bestWays({ walk, offsets: best.lattice.offsets }, best.cost, space)
    const { price, floor } = findPrice(walk, best.cost, best.price, space)
    if (floor > best.cost) return undefined
    const found = spread(walk, price, space.toGo, best.cost, space)
    return found.reached && found.cost === best.cost ? bestWays(found.lattice, best.cost, space) : undefined
  }
  // The chosen one first, for its lattice may stand there still.
  const inTurn = listDistinctStarts(holes, frame).sort((a, b) => Number(b === chosen) - Number(a === chosen))
  const begins = inTurn.flatMap((start) => {
    const ways = findWays(start)
    if (!ways) return []
    const alike = starts.filter((one) => looksAlike(holes, one, start))
    const mirrored = hasSlants ? [] : starts.filter((one) => looksMirrored(holes, one, start) && !alike.includes(one))
    return [{ start, alike: alike.length, mirrored: mirrored.length, ways }]
  })
  return { holes, begins: begins.sort((a, b) => a.start - b.start) }
}

/** One best turning: at each pick the same way as before when that is as good, and forward at first. */
function firstWay({ picks, from, to, turn, begins }: BestWays): Int8Array {
  const turns = new Int8Array(picks)
  let place = 0
  for (let pick = 0; pick < picks; pick++) {
    const before = pick === 0 ? 1 : turns[pick - 1]!
    let chosen = -1
    for (let step = begins[pick]!; step < begins[pick + 1]!; step++) {
      if (from[step] === place && (chosen < 0 || turn[step] === before)) chosen = step
    }
    turns[pick] = turn[chosen]!
    place = to[chosen]!
  }
  return turns
}
