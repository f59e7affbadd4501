import type { Tablet } from '../draft.ts'
import { CheapestFirst } from './cheapest-first.ts'
import { colourCosts, type Palette, slantCosts, type TabletTask } from './column.ts'
import { fillCostToGo, fillFreeCosts } from './cost-to-go.ts'
import { fillHoles, type HoleChoice, listHoleChoices } from './hole-choices.ts'
import type { Lattice, LatticeSpace } from './lattice.ts'
import { leastNeutralCost } from './neutral-cost.ts'
import { levelsOf, type Walk } from './walk.ts'

type Threading = Tablet['threading']

/** One tablet's part of a request with what every filling of its holes has in common. */
export interface Frame {
  readonly task: TabletTask
  readonly palette: Palette
  readonly colourCost: Int32Array
  readonly threadings: readonly { readonly threading: Threading; readonly slantCost: Int32Array }[]
  /** Whether any slant is legible. */
  readonly hasSlants: boolean
  /** Stands before the first pick. */
  readonly starts: readonly number[]
  readonly space: LatticeSpace
}

/** A threading with its holes, and the least that it costs. */
export interface Choice {
  readonly threading: Threading
  readonly holes: HoleChoice
  readonly start: number
  readonly cost: number
  /** Whether the other threading, with holes of its own, costs as little. */
  readonly isTied: boolean
  /** The price of net turns that was found last. */
  readonly price: number
  /** Where it lies in the space, as long as nothing else is spread there. */
  readonly lattice: Lattice | undefined
}

export function toFrame(task: TabletTask, palette: Palette, space: LatticeSpace): Frame {
  const mismatch = task.cells.length
  const hasSlants = task.slants?.some((slant) => slant !== null) ?? false
  const { known } = task
  // With holes that may be any, Z and the mirror of the holes of S do as well as S: it alone is looked at.
  const isEither = hasSlants && known.holes !== null
  const threadings = known.threading ? [known.threading] : isEither ? (['S', 'Z'] as const) : (['S'] as const)
  return {
    ...{ task, palette, hasSlants, space },
    colourCost: colourCosts(task, palette, mismatch),
    threadings: threadings.map((threading) => ({ threading, slantCost: slantCosts(task, threading, mismatch) })),
    starts: known.start ? ['A', 'B', 'C', 'D'].flatMap((hole, at) => (hole === known.start ? [at] : [])) : [0, 1, 2, 3],
  }
}

/**
 * A filling on its way: with every step its cost is known better, from never too high to exact. First `start` is still
 * open, then what is required is left out, then only that it be neutral.
 */
interface Candidate {
  readonly bound: number
  /** Which of the frame's threadings. */
  readonly at: number
  readonly holes: HoleChoice
  readonly rank: number
  readonly start: number
  readonly known: 'colours' | 'freely' | 'but for twist'
}

/** A candidate whose cost is known. */
interface Found {
  readonly cost: number
  readonly candidate: Candidate
  readonly lattice: Lattice | undefined
}

/**
 * The best threading and filling of the holes; of equally good ones S, then the one with fewer and commoner colours, then
 * the start that would be cheaper if it need not be neutral. What is worked out next is always what may still be
 * cheapest, so that most fillings are dropped by a figure that is quickly found.
 * @returns undefined when no turning at all meets what is required
 */
export function chooseThreading(frame: Frame): Choice | undefined {
  const { task, threadings } = frame
  const open = new CheapestFirst<Candidate>()
  for (const candidate of listFillings(frame)) open.add(candidate)
  let least = Infinity
  let price = 0
  const found: (Found | undefined)[] = threadings.map(() => undefined)
  for (let candidate = open.take(); candidate && candidate.bound <= least; candidate = open.take()) {
    const own = found[candidate.at]
    if (own && candidate.bound === own.cost && !precedes(candidate, own.candidate)) continue
    if (candidate.known === 'colours') {
      for (const begun of listBegun(frame, candidate)) open.add(begun)
      continue
    }
    const walk = toWalk(frame, candidate.at, candidate.holes, candidate.start)
    const isRough = candidate.known === 'freely'
    const { cost, lattice, ...priced } = isRough
      ? {
          price,
          lattice: undefined,
          cost: fillCostToGo(walk, 0, frame.space.holdToGo(walk.picks * 4 * levelsOf(walk))),
        }
      : leastNeutralCost(walk, least, price, frame.space)
    price = priced.price
    if (cost > least || cost === Infinity) continue
    if (isRough && task.require.twistNeutral) {
      open.add({ ...candidate, bound: cost, known: 'but for twist' })
      continue
    }
    least = cost
    // Where it must be neutral, the bound is what it would cost if it need not, and decides between starts.
    const done = task.require.twistNeutral ? candidate : { ...candidate, bound: cost }
    if (!own || cost < own.cost || precedes(done, own.candidate)) found[done.at] = { cost, candidate: done, lattice }
  }
  const tied = found.flatMap((one) => (one && one.cost === least ? [one] : []))
  const [best] = tied
  if (!best) return undefined
  const { holes, start, at } = best.candidate
  const { threading } = threadings[at]!
  const isTied = tied.length > 1 || (task.known.threading === null && threadings.length === 1)
  return { threading, holes, start, cost: least, isTied, price, lattice: best.lattice }
}

/** Of candidates that cost the same, with one threading, the better. */
function precedes(one: Candidate, other: Candidate): boolean {
  return (one.rank - other.rank || one.bound - other.bound || one.start - other.start) < 0
}

/** Every filling with every threading. Colours that it does not have are mismatches wherever they were seen. */
function listFillings({ task, palette, starts, hasSlants, threadings }: Frame): Candidate[] {
  const { known } = task
  const fillings = known.holes
    ? [fillHoles((hole) => palette.keys.indexOf(known.holes![hole]!))]
    : listHoleChoices(palette.keys.length, known.start ? starts[0]! : null, !hasSlants)
  const hidden = (holes: HoleChoice) =>
    task.cells.length * (palette.legible - [...new Set(holes)].reduce((sum, kind) => sum + palette.seen[kind]!, 0))
  return fillings.flatMap((holes, rank) => {
    const bound = known.holes ? 0 : hidden(holes)
    return threadings.map((_, at) => ({ bound, at, holes, rank, start: 0, known: 'colours' as const }))
  })
}

/** A filling from every start. */
function listBegun(frame: Frame, filling: Candidate): Candidate[] {
  const costs = new Int32Array(4)
  fillFreeCosts(toWalk(frame, filling.at, filling.holes, 0), costs)
  const starts = listDistinctStarts(filling.holes, frame)
  return starts.map((start) => ({ ...filling, start, bound: costs[start]!, known: 'freely' }))
}

/**
 * The starts from which the tablet does not look like from an earlier one: all threads alike, and one will do. While no
 * slant is legible, nor does it look like that in a mirror, where forward is back.
 */
export function listDistinctStarts(
  holes: HoleChoice,
  { starts, hasSlants }: Pick<Frame, 'starts' | 'hasSlants'>,
): number[] {
  const isLike = (one: number, other: number) =>
    looksAlike(holes, one, other) || (!hasSlants && looksMirrored(holes, one, other))
  return starts.filter((start, at) => starts.findIndex((one) => isLike(one, start)) === at)
}

export function looksAlike(holes: HoleChoice, one: number, other: number): boolean {
  return holes.every((_, hole) => holes[(hole + one) & 3] === holes[(hole + other) & 3])
}

/** Whether the threads seen from one stand are those seen from the other in a mirror: stand p for one + other - p. */
export function looksMirrored(holes: HoleChoice, one: number, other: number): boolean {
  return holes.every((kind, hole) => kind === holes[(one + other - 1 - hole) & 3])
}

/** @param at which of the frame's threadings */
export function toWalk(frame: Frame, at: number, holes: HoleChoice, start: number): Walk {
  const { task, palette, colourCost, threadings } = frame
  const { closes = false, twistNeutral = false, longestFloat = Infinity } = task.require
  const picks = task.cells.length
  const hasThread = (hole: number) => palette.keys[holes[hole & 3]!] !== null
  return {
    ...{ picks, start, holes, closes, neutral: twistNeutral, colourCost },
    kinds: palette.keys.length,
    slantCost: threadings[at]!.slantCost,
    floatLimit: longestFloat < picks ? longestFloat : 0,
    floats: holes.map((_, hole) => hasThread(hole) || hasThread(hole + 2)),
  }
}
