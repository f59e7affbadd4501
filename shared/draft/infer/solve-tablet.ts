import { type Hole, HOLES, type Tablet } from '../draft.ts'
import { bestWays, type BestWays } from './best-ways.ts'
import { colourCosts, type Palette, paletteOf, slantCosts, type TabletTask } from './column.ts'
import { type Begin, type Differing, tallyWays } from './differing.ts'
import { type HoleChoice, listHoleChoices, rotateHoles, fillHoles } from './hole-choices.ts'
import { type LatticeSpace, spread } from './lattice.ts'
import { fillCostToGo, levelsOf, NEVER, type Walk } from './walk.ts'

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

/** A threading with its holes, and the least that it costs. */
interface Choice {
  readonly threading: Tablet['threading']
  readonly holes: HoleChoice
  readonly start: number
  readonly cost: number
  readonly rank: number
}

/**
 * Finds the turning of one tablet with the fewest mismatches, then the fewest reversals, over every start, threading
 * and filling of the holes that is not known, and counts how many (start, turning) choices are as good.
 * @returns undefined when no turning at all meets what is required
 * Source: our own.
 */
export function solveTablet(task: TabletTask, space: LatticeSpace): TabletSolution | undefined {
  const palette = paletteOf(task)
  const mismatch = task.cells.length
  const costs = colourCosts(task, palette, mismatch)
  const hasSlants = task.slants?.some((slant) => slant !== null) ?? false
  const { known } = task
  const threadings = known.threading ? [known.threading] : hasSlants ? (['S', 'Z'] as const) : (['S'] as const)
  const starts = known.start ? [HOLES.indexOf(known.start)] : [0, 1, 2, 3]
  const frame = { task, palette, costs, starts, mismatch, space }
  const found = threadings.flatMap((threading) => findHoles(frame, threading, hasSlants) ?? [])
  const best = found.reduce<Choice | undefined>(
    (least, one) => (least && least.cost <= one.cost ? least : one),
    undefined,
  )
  if (!best) return undefined
  const ties = found.filter(({ cost }) => cost === best.cost).length
  const { begins, holes } = listBegins(frame, best)
  const first = begins[0]!
  const keyOf = (hole: number) => palette.keys[holes[hole]!] ?? null
  const shown = HOLES.map((_, hole) => keyOf(hole) ?? task.weft ?? null)
  return {
    threading: best.threading,
    threadingIsOpen: known.threading === null && (!hasSlants || ties > 1),
    holes: [keyOf(0), keyOf(1), keyOf(2), keyOf(3)],
    start: HOLES[first.start]!,
    turns: firstWay(first.ways),
    mismatches: Math.floor(best.cost / mismatch),
    reversals: best.cost % mismatch,
    ...tallyWays(begins, { task, shown, slantTells: known.threading !== null || (hasSlants && ties === 1) }),
  }
}

interface Frame {
  readonly task: TabletTask
  readonly palette: Palette
  readonly costs: Int32Array
  readonly starts: readonly number[]
  readonly mismatch: number
  readonly space: LatticeSpace
}

/**
 * The best filling of the holes for one threading; of equally good ones the one with fewer and commoner colours. What
 * must be neutral is worked out only for those that can still be best by the cheaper figure without that wish.
 */
function findHoles(frame: Frame, threading: Tablet['threading'], hasSlants: boolean): Choice | undefined {
  const { task, space } = frame
  let best: Choice | undefined
  for (const { holes, rank, start, floor } of listFloors(frame, threading, hasSlants)) {
    if (best && floor > best.cost) break
    const atMost = best?.cost ?? NEVER - 1
    const cost = task.require.twistNeutral ? leastCost(toWalk(frame, threading, holes, start), atMost, space) : floor
    if (cost > atMost) continue
    if (!best || cost < best.cost || rank < best.rank) best = { threading, holes, start, cost, rank }
  }
  return best
}

interface Floor {
  readonly holes: HoleChoice
  readonly rank: number
  readonly start: number
  /** The least cost when nothing need be neutral. */
  readonly floor: number
}

/** Every filling with every start that can be reached, the cheapest first. */
function listFloors(frame: Frame, threading: Tablet['threading'], hasSlants: boolean): Floor[] {
  const { task, palette, starts, mismatch, space } = frame
  const { known } = task
  const choices = known.holes
    ? [fillHoles((hole) => palette.keys.indexOf(known.holes![hole]!))]
    : listHoleChoices(palette.keys.length, known.start ? starts[0]! : null, !hasSlants)
  const hidden = (holes: HoleChoice) =>
    mismatch * (palette.legible - [...new Set(holes)].reduce((sum, kind) => sum + palette.seen[kind]!, 0))
  const ranked = choices.map((holes, rank) => ({ holes, rank, hidden: known.holes ? 0 : hidden(holes) }))
  const floors: Floor[] = []
  let least = NEVER - 1
  for (const { holes, rank, hidden } of ranked.sort((a, b) => a.hidden - b.hidden || a.rank - b.rank)) {
    // Colours that the filling does not have are mismatches wherever they were seen.
    if (!task.require.twistNeutral && hidden > least) break
    for (const start of listDistinctStarts(holes, starts)) {
      const walk = toWalk(frame, threading, holes, start)
      const floor = fillCostToGo(walk, space.holdToGo(walk.picks * 4 * levelsOf(walk)))
      if (floor !== NEVER) floors.push({ holes, rank, start, floor })
      least = Math.min(least, floor)
    }
  }
  return floors.sort((a, b) => a.floor - b.floor || a.rank - b.rank)
}

/** The starts from which the tablet does not look like from an earlier one: all threads alike, and one will do. */
function listDistinctStarts(holes: HoleChoice, starts: readonly number[]): number[] {
  return starts.filter((start, at) => starts.findIndex((one) => looksAlike(holes, one, start)) === at)
}

function looksAlike(holes: HoleChoice, one: number, other: number): boolean {
  return holes.every((_, hole) => holes[(hole + one) & 3] === holes[(hole + other) & 3])
}

function toWalk(frame: Frame, threading: Tablet['threading'], holes: HoleChoice, start: number): Walk {
  const { task, palette, costs, mismatch } = frame
  const { closes = false, twistNeutral = false, longestFloat = Infinity } = task.require
  const picks = task.cells.length
  const hasThread = (hole: number) => palette.keys[holes[hole]!] !== null
  return {
    ...{ picks, start, holes, closes, neutral: twistNeutral },
    kinds: palette.keys.length,
    colourCost: costs,
    slantCost: slantCosts(task, threading, mismatch),
    floatLimit: longestFloat < picks ? longestFloat : 0,
    floats: HOLES.map((_, hole) => hasThread(hole) || hasThread((hole + 2) & 3)),
  }
}

/**
 * The least cost of a walk, exact where it is no more than `atMost`; more than that, or NEVER, where it is not. What is
 * looked at grows by steps, for a neutral turning is mostly hardly dearer than one that only closes.
 */
function leastCost(walk: Walk, atMost: number, space: LatticeSpace): number {
  const toGo = space.holdToGo(walk.picks * 4 * levelsOf(walk))
  const floor = fillCostToGo(walk, toGo)
  if (!walk.neutral || floor === NEVER || floor > atMost) return floor
  let bound = floor
  for (let more = 2; ; more *= 2) {
    const found = spread(walk, toGo, Math.min(bound, atMost), space)
    if (found.reached) return found.cost
    if (found.keptOut === NEVER || found.keptOut > atMost) return found.keptOut
    bound = Math.max(found.keptOut, Math.min(atMost, floor + more))
  }
}

/** Every start from which the best can be reached. With nothing known of holes and start, the first of them becomes A. */
function listBegins(frame: Frame, best: Choice): { holes: HoleChoice; begins: readonly Begin[] } {
  const { task, starts, space } = frame
  const isFree = task.known.holes === null && task.known.start === null
  const holes = isFree ? rotateHoles(best.holes, best.start) : best.holes
  const begins = listDistinctStarts(holes, starts).flatMap((start) => {
    const walk = toWalk(frame, best.threading, holes, start)
    const toGo = space.holdToGo(walk.picks * 4 * levelsOf(walk))
    if (fillCostToGo(walk, toGo) > best.cost) return []
    const found = spread(walk, toGo, best.cost, space)
    if (!found.reached || found.cost !== best.cost) return []
    const alike = starts.filter((one) => looksAlike(holes, one, start)).length
    return [{ start, alike, ways: bestWays(found.lattice, best.cost, space) }]
  })
  return { holes, begins }
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
