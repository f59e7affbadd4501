import { requirePositive, requireWhole } from '../measure/argument.ts'
import { bareAfter, type BareWarp } from './twist-forecast.ts'

export interface BorderPlan {
  /** Picks after which the border tablets turn the other way, in order. */
  readonly reversals: readonly number[]
  /** Picks that the plan covers: all that were wanted, or as far as the limit can be kept. */
  readonly picks: number
  /** The most turns per metre that the borders come to, and after which pick. */
  readonly most: { readonly turnsPerM: number; readonly pick: number }
}

/** Border tablets that turn a quarter at every pick. */
const STEADY: readonly number[] = [1]

/** Blocks times nets that are looked at: a plan within a frame or two, and within 20 MB. */
const MOST_STATES = 20_000_000

/**
 * Where border tablets should turn the other way, so that the twist in their bare warp never passes a limit: as far as
 * can be woven at all, with the fewest reversals, only at the edge of a block of picks, and each as late as that allows.
 * @param warp as for `forecastTwist`
 * @param picks how many picks are wanted, a whole number of 1 or more
 * @param blockPicks a reversal may stand after this many picks and their multiples, a whole number of 1 or more
 * @param limitPerM turns per metre that the maker will weave with, more than zero
 * @param steps quarter turns of the borders at each pick, none below zero, again and again; a quarter at every pick unless told
 * @returns the plan; `picks` is less than wanted where no reversal at the edge of a block can keep the limit any more, or
 *   the warp runs out
 * @throws RangeError when an argument is out of range, or there are more than 20 million blocks times nets to look at
 * @example 1000 mm bare, 1 mm a pick, blocks of 8, 10 turns a metre: the first reversal after pick 32
 * Source: our own; dynamic programming from the last block back, over the net that the borders have.
 */
export function planBorders(
  warp: BareWarp,
  picks: number,
  blockPicks: number,
  limitPerM: number,
  steps: readonly number[] = STEADY,
): BorderPlan {
  requireWhole('picks', picks, 1)
  requireWhole('blockPicks', blockPicks, 1)
  requirePositive('limitPerM', limitPerM)
  if (steps.length === 0) throw new RangeError('steps must hold at least one pick, not none')
  for (const [index, step] of steps.entries()) requireWhole(`steps[${index}]`, step, 0)
  const blocks = blocksOf(warp, picks, blockPicks, limitPerM, steps)
  const mayGoOn = choose(blocks)
  const reversals: number[] = []
  let [net, turn, done] = [0, 1, 0]
  let most = { turnsPerM: 0, pick: 0 }
  for (const [at, block] of blocks.entries()) {
    const way = at === 0 ? 'straight' : mayGoOn(at, net * turn)
    if (way === 'end' || !isWithin(block, net * turn * (way === 'back' ? -1 : 1))) break
    if (way === 'back') {
      turn = -turn
      reversals.push(done)
    }
    for (let pick = done + 1; pick <= done + block.picks; pick++) {
      net += turn * steps[(pick - 1) % steps.length]!
      const turnsPerM = Math.abs(net) / 4 / (bareAfter(warp, pick) / 1000)
      if (turnsPerM > most.turnsPerM) most = { turnsPerM, pick }
    }
    done += block.picks
  }
  return { reversals, picks: done, most }
}

/** A block woven forward: the nets before it with which it keeps the limit, and what it adds. */
interface Block {
  readonly picks: number
  readonly low: number
  readonly high: number
  readonly adds: number
}

const isWithin = ({ low, high }: Block, net: number) => net >= low && net <= high

function blocksOf(
  warp: BareWarp,
  picks: number,
  blockPicks: number,
  limitPerM: number,
  steps: readonly number[],
): Block[] {
  const blocks: Block[] = []
  for (let done = 0; done < picks; done += blockPicks) {
    const count = Math.min(blockPicks, picks - done)
    let [adds, low, high] = [0, -Infinity, Infinity]
    for (let pick = done + 1; pick <= done + count; pick++) {
      adds += steps[(pick - 1) % steps.length]!
      const leftM = bareAfter(warp, pick) / 1000
      const mostQuarters = leftM > 0 ? 4 * limitPerM * leftM : -1
      low = Math.max(low, -mostQuarters - adds)
      high = Math.min(high, mostQuarters - adds)
    }
    if (low > high) break
    blocks.push({ picks: count, low, high, adds })
  }
  return blocks
}

/**
 * What is best before each block: to go on, to turn the other way, or to end because neither keeps the limit. Nets are
 * counted in the direction in which the borders turn, so that turning the other way only changes the sign.
 */
function choose(blocks: readonly Block[]): (block: number, net: number) => 'straight' | 'back' | 'end' {
  const bound = blocks.reduce((most, { high, adds }) => Math.max(most, Math.floor(high) + adds), 0)
  const size = 2 * bound + 1
  if (blocks.length * size > MOST_STATES)
    throw new RangeError(`blockPicks must be larger: ${blocks.length} blocks with ${size} nets are too many`)
  const choices = new Uint8Array(blocks.length * size)
  // Blocks that can still be woven, times a number larger than any count of reversals, less the reversals.
  const weight = blocks.length + 1
  let after = new Float64Array(size)
  for (let at = blocks.length - 1; at >= 0; at--) {
    const block = blocks[at]!
    const before = new Float64Array(size)
    const worth = (net: number) => (isWithin(block, net) ? weight + after[net + block.adds + bound]! : -1)
    for (let net = -bound; net <= bound; net++) {
      const [straight, back] = [worth(net), worth(-net) - 1]
      choices[at * size + net + bound] = straight < 0 && back < 0 ? 2 : straight >= back ? 0 : 1
      before[net + bound] = Math.max(straight, back, 0)
    }
    after = before
  }
  return (block, net) => (['straight', 'back', 'end'] as const)[choices[block * size + net + bound]!]!
}
