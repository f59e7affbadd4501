import type { ColourKey } from '../draft.ts'
import type { BestWays } from './best-ways.ts'
import type { TabletTask } from './column.ts'
import type { LatticeSpace } from './lattice.ts'
import { countThrough, countWays, type WayCounts } from './count-ways.ts'

/** The one look at the original that would leave the fewest solutions. */
export interface Deciding {
  /** From 1. */
  readonly pick: number
  readonly of: 'colour' | 'slant'
  /** How many solutions are left at most, whatever is found there. */
  readonly leaves: bigint
}

/** In how many ways a tablet's best is reached, and where these ways differ. */
export interface Differing {
  /** (start, turning) choices that reach the same least mismatches and then reversals. */
  readonly solutions: bigint
  /** Picks, from 1, at which some turn forward and some back. */
  readonly turnDiffers: readonly number[]
  /** Picks, from 1, at which they do not all show the same colour. */
  readonly colourDiffers: readonly number[]
  /** Undefined when there is one solution only, or no single look would rule any out. */
  readonly decides: Deciding | undefined
}

/**
 * The best turnings from one start; for how many starts they stand, because the tablet looks the same from them; and for
 * how many others with forward and back changed over, because it looks the same in a mirror.
 */
export interface Begin {
  readonly start: number
  readonly alike: number
  readonly mirrored: number
  readonly ways: BestWays
}

interface Frame {
  readonly task: TabletTask
  /** What each hole shows: its colour, the weft where it is empty, null where that is not known. */
  readonly shown: readonly (ColourKey | null)[]
  readonly space: LatticeSpace
  /** Whether a slant, if it were legible, would tell forward from back. */
  readonly slantTells: boolean
}

/** Two counts that were rounded on the way may be told apart when they differ by more than this part of them. */
const ROUNDING = 1e-9

/** In the tally of a pick, the four holes by the colour they show come first, then the turns forward and back. */
const TALLY = 6
const TURNS = 4

/**
 * Lays all best ways of a tablet over each other.
 * @param begins the best ways of each start that reaches the best
 * Source: our own. The look that decides is the one whose worst outcome leaves the fewest; a colour before a slant, and
 * an earlier pick before a later, where two are as good.
 */
export function tallyWays(begins: readonly Begin[], { task, shown, slantTells, space }: Frame): Differing {
  const groups = shown.map((key) => shown.indexOf(key))
  const counted = begins.map((begin) => ({ ...begin, counts: countWays(begin.ways, space) }))
  const { tally, seen } = tallyRounded(counted, groups)
  const { picks } = begins[0]!.ways
  const turnDiffers: number[] = []
  const colourDiffers: number[] = []
  const looks: { pick: number; of: Deciding['of']; leaves: number; outcomes: number }[] = []
  for (let pick = 0; pick < picks; pick++) {
    const colours = seen[pick]! & ((1 << TURNS) - 1)
    if ((colours & (colours - 1)) === 0) continue
    colourDiffers.push(pick + 1)
    if (task.cells[pick] === null) looks.push({ ...mostOf(tally, pick, 0, TURNS), pick, of: 'colour' })
  }
  for (let pick = 0; pick < picks; pick++) {
    if (seen[pick]! >> TURNS !== 3) continue
    turnDiffers.push(pick + 1)
    const isLegible = (task.slants?.[pick] ?? null) !== null
    if (slantTells && !isLegible) looks.push({ ...mostOf(tally, pick, TURNS, TALLY), pick, of: 'slant' })
  }
  const fewest = looks.reduce((least, { leaves }) => Math.min(least, leaves), Infinity)
  const near = looks.filter(({ leaves }) => leaves <= fewest * (1 + ROUNDING))
  // Every best turning takes one step of any pick: one count serves for how many there are and for the first look.
  const [first, ...others] = near
  const [firstCount] = countPicks(counted, [first?.pick ?? 0], groups)
  const { solutions } = firstCount!
  let decides: Deciding | undefined
  const consider = ({ pick, of }: (typeof looks)[number], count: PickCount) => {
    const leaves = of === 'colour' ? count.mostOfColour : count.mostOfSlant
    if (leaves < (decides?.leaves ?? solutions)) decides = { pick: pick + 1, of, leaves }
  }
  if (first) consider(first, firstCount!)
  // Of so many outcomes one must leave its share at least.
  const { leaves: least } = decides ?? { leaves: solutions }
  const better = others.filter(({ outcomes }) => (least - 1n) * BigInt(outcomes) >= solutions)
  const picksOfBetter = [...new Set(better.map(({ pick }) => pick))].sort((a, b) => a - b)
  const counts = countPicks(counted, picksOfBetter, groups)
  for (const look of better) consider(look, counts[picksOfBetter.indexOf(look.pick)]!)
  return { solutions, turnDiffers, colourDiffers, decides }
}

type Counted = Begin & { readonly counts: WayCounts }

/**
 * How many ways show each colour and turn each way at each pick, as far as plain numbers hold it.
 * @returns tally, picks x TALLY; and which of these any way has, a bit each
 */
function tallyRounded(
  counted: readonly Counted[],
  groups: readonly number[],
): { tally: Float64Array; seen: Uint8Array } {
  const { picks } = counted[0]!.ways
  const tally = new Float64Array(picks * TALLY)
  const seen = new Uint8Array(picks)
  for (const { ways, alike, mirrored, counts } of counted) {
    const { from, to, turn, hole, begins } = ways
    const { before, after } = counts
    for (let pick = 0, step = 0; pick < picks; pick++) {
      for (; step < begins[pick + 1]!; step++) {
        const through = before[from[step]!]! * after[to[step]!]!
        const colour = groups[hole[step]!]!
        const turned = turn[step] === 1 ? TURNS : TURNS + 1
        const otherWay = 2 * TURNS + 1 - turned
        tally[pick * TALLY + colour]! += (alike + mirrored) * through
        tally[pick * TALLY + turned]! += alike * through
        seen[pick]! |= (1 << colour) | (1 << turned)
        if (mirrored === 0) continue
        tally[pick * TALLY + otherWay]! += mirrored * through
        seen[pick]! |= 1 << otherWay
      }
    }
  }
  return { tally, seen }
}

/** How many solutions a look leaves at most, as far as plain numbers hold it, and how many outcomes it may have. */
function mostOf(tally: Float64Array, pick: number, from: number, to: number): { leaves: number; outcomes: number } {
  const counts = tally.subarray(pick * TALLY + from, pick * TALLY + to)
  return { leaves: Math.max(...counts), outcomes: counts.filter((count) => count > 0).length }
}

/** Of one pick, exactly. */
interface PickCount {
  readonly solutions: bigint
  /** How many solutions a look at its colour, or at its slant, leaves at most. */
  readonly mostOfColour: bigint
  readonly mostOfSlant: bigint
}

/** @param at picks from 0, rising */
function countPicks(counted: readonly Counted[], at: readonly number[], groups: readonly number[]): PickCount[] {
  if (at.length === 0) return []
  const through = counted.map(({ ways, counts }) => countThrough(ways, counts, at))
  return at.map((pick, n) => {
    const ofHole = [0n, 0n, 0n, 0n]
    const ofTurn = [0n, 0n]
    counted.forEach(({ ways, alike, mirrored }, begin) => {
      const begins = ways.begins[pick]!
      through[begin]![n]!.forEach((many, step) => {
        const turned = ways.turn[begins + step] === 1 ? 0 : 1
        const group = groups[ways.hole[begins + step]!]!
        ofHole[group]! += BigInt(alike + mirrored) * many
        ofTurn[turned]! += BigInt(alike) * many
        ofTurn[1 - turned]! += BigInt(mirrored) * many
      })
    })
    const most = (counts: readonly bigint[]) => counts.reduce((one, other) => (other > one ? other : one))
    return { solutions: ofTurn[0]! + ofTurn[1]!, mostOfColour: most(ofHole), mostOfSlant: most(ofTurn) }
  })
}
