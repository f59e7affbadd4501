import type { ColourKey } from '../draft.ts'
import type { BestWays } from './best-ways.ts'
import type { TabletTask } from './column.ts'
import { countWays } from './count-ways.ts'

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

/** The best turnings from one start, and for how many starts they stand because the tablet looks the same from them. */
export interface Begin {
  readonly start: number
  readonly alike: number
  readonly ways: BestWays
}

/** What a step shows or does. */
type Value = ColourKey | number | null

interface Frame {
  readonly task: TabletTask
  /** What each hole shows: its colour, the weft where it is empty, null where that is not known. */
  readonly shown: readonly (ColourKey | null)[]
  /** Whether a slant, if it were legible, would tell forward from back. */
  readonly slantTells: boolean
}

/**
 * Lays all best ways of a tablet over each other.
 * @param begins the best ways of each start that reaches the best
 * Source: our own. The look that decides is the one whose worst outcome leaves the fewest; a colour before a slant, and
 * an earlier pick before a later, where two are as good.
 */
export function tallyWays(begins: readonly Begin[], frame: Frame): Differing {
  const counted = begins.map(({ ways, alike }) => ({ ways, alike: BigInt(alike), counts: countWays(ways) }))
  const solutions = counted.reduce((sum, { alike, counts }) => sum + alike * counts.total, 0n)
  const turnDiffers: number[] = []
  const colourDiffers: number[] = []
  let decides: Deciding | undefined
  const offer = (pick: number, of: Deciding['of'], tally: Map<Value, bigint>) => {
    const leaves = [...tally.values()].reduce((most, one) => (one > most ? one : most), 0n)
    if (leaves < (decides?.leaves ?? solutions)) decides = { pick: pick + 1, of, leaves }
  }
  const picks = begins[0]!.ways.picks
  const tallyAt = (pick: number, keyOf: (ways: BestWays, step: number) => Value) => {
    const tally = new Map<Value, bigint>()
    for (const { ways, alike, counts } of counted) {
      for (let step = ways.begins[pick]!; step < ways.begins[pick + 1]!; step++) {
        const key = keyOf(ways, step)
        tally.set(key, (tally.get(key) ?? 0n) + alike * counts.through(step))
      }
    }
    return tally
  }
  const colourOf = (ways: BestWays, step: number) => frame.shown[ways.hole[step]!]!
  const turnOf = (ways: BestWays, step: number) => ways.turn[step]!
  for (let pick = 0; pick < picks; pick++) {
    if (!differsAt(begins, pick, colourOf)) continue
    colourDiffers.push(pick + 1)
    if (frame.task.cells[pick] === null) offer(pick, 'colour', tallyAt(pick, colourOf))
  }
  for (let pick = 0; pick < picks; pick++) {
    if (!differsAt(begins, pick, turnOf)) continue
    turnDiffers.push(pick + 1)
    const isLegible = (frame.task.slants?.[pick] ?? null) !== null
    if (frame.slantTells && !isLegible) offer(pick, 'slant', tallyAt(pick, turnOf))
  }
  return { solutions, turnDiffers, colourDiffers, decides }
}

function differsAt(begins: readonly Begin[], pick: number, keyOf: (ways: BestWays, step: number) => Value): boolean {
  const first = keyOf(begins[0]!.ways, begins[0]!.ways.begins[pick]!)
  return begins.some(({ ways }) => {
    for (let step = ways.begins[pick]!; step < ways.begins[pick + 1]!; step++) {
      if (keyOf(ways, step) !== first) return true
    }
    return false
  })
}
