import { type Hole, HOLES, type Tablet } from '../draft.ts'
import { bestWays, type BestWays } from './best-ways.ts'
import { colourCosts, type Palette, paletteOf, slantCosts, type TabletTask } from './column.ts'
import { type Differing, tallyWays } from './differing.ts'
import { type HoleChoice, listHoleChoices, rotateHoles } from './hole-choices.ts'
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
    ...tallyWays(
      begins.map(({ ways }) => ways),
      { task, shown, slantTells: known.threading !== null || (hasSlants && ties === 1) },
    ),
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

/** The best filling of the holes for one threading; of equally good ones the one with fewer and commoner colours. */
function findHoles(frame: Frame, threading: Tablet['threading'], hasSlants: boolean): Choice | undefined {
  const { task, palette, starts, mismatch } = frame
  const { known } = task
  const start = known.start ? starts[0]! : null
  const choices = known.holes
    ? [HOLES.map((_, hole) => palette.keys.indexOf(known.holes![hole]!)) as unknown as HoleChoice]
    : listHoleChoices(palette.keys.length, start, !hasSlants)
  const atLeast = (holes: HoleChoice) =>
    mismatch * (palette.legible - [...new Set(holes)].reduce((sum, kind) => sum + palette.seen[kind]!, 0))
  const ranked = choices.map((holes, rank) => ({ holes, rank, floor: known.holes ? 0 : atLeast(holes) }))
  let best: Choice | undefined
  for (const { holes, rank, floor } of ranked.sort((a, b) => a.floor - b.floor || a.rank - b.rank)) {
    if (best && floor > best.cost) break
    let cost = best?.cost ?? NEVER
    let reached = false
    for (const begin of starts) {
      const least = leastCost(toWalk(frame, threading, holes, begin), cost, frame.space)
      reached ||= least !== NEVER && least <= cost
      cost = Math.min(cost, least)
    }
    if (reached && (!best || cost < best.cost || rank < best.rank)) best = { threading, holes, cost, rank }
  }
  return best
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
  for (let more = 2; ; more *= 4) {
    const found = spread(walk, toGo, Math.min(bound, atMost), space)
    if (found.reached) return found.cost
    if (found.keptOut === NEVER || found.keptOut > atMost) return found.keptOut
    bound = Math.max(found.keptOut, Math.min(atMost, floor + more))
  }
}

/** Every start from which the best can be reached. With nothing known of holes and start, the first of them becomes A. */
function listBegins(
  frame: Frame,
  best: Choice,
): { holes: HoleChoice; begins: readonly { start: number; ways: BestWays }[] } {
  const { task, starts, space } = frame
  const waysFrom = (holes: HoleChoice, start: number): BestWays | undefined => {
    const walk = toWalk(frame, best.threading, holes, start)
    const toGo = space.holdToGo(walk.picks * 4 * levelsOf(walk))
    if (fillCostToGo(walk, toGo) > best.cost) return undefined
    const found = spread(walk, toGo, best.cost, space)
    return found.reached && found.cost === best.cost ? bestWays(found.lattice, best.cost, space) : undefined
  }
  const isFree = task.known.holes === null && task.known.start === null
  const by = isFree ? starts.find((start) => waysFrom(best.holes, start) !== undefined)! : 0
  const holes = rotateHoles(best.holes, by)
  const begins = starts.flatMap((start) => {
    const ways = waysFrom(holes, start)
    return ways ? [{ start, ways }] : []
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
