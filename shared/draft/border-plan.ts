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

/**
 * Where border tablets that turn at every pick should turn the other way, so that the twist in their bare warp never
 * passes a limit: the fewest reversals, and only at the edge of a block of picks. Each reversal is put off as long as it
 * can be; whoever reverses sooner has less twist to take out again, so must reverse sooner the next time as well.
 * @param warp as for `forecastTwist`
 * @param picks how many picks are wanted, a whole number of 1 or more
 * @param blockPicks a reversal may stand after this many picks and their multiples, a whole number of 1 or more
 * @param limitPerM turns per metre that the maker will weave with, more than zero
 * @returns the plan; `picks` is less than wanted where no reversal at the edge of a block can keep the limit any more, or
 *   the warp runs out
 * @throws RangeError when an argument is out of range
 * @example 1000 mm bare, 1 mm a pick, blocks of 8, 10 turns a metre: the first reversal after pick 32
 * Source: our own.
 */
export function planBorders(warp: BareWarp, picks: number, blockPicks: number, limitPerM: number): BorderPlan {
  requireWhole('picks', picks, 1)
  requireWhole('blockPicks', blockPicks, 1)
  requirePositive('limitPerM', limitPerM)
  const reversals: number[] = []
  let net = 0
  let turn = 1
  let most = { turnsPerM: 0, pick: 0 }
  for (let done = 0; done < picks;) {
    const block = Math.min(blockPicks, picks - done)
    const straight = weaveBlock(warp, done, block, net, turn, limitPerM)
    // At the very start both ways are alike; later the other way takes twist out before it puts any in.
    const way = straight ? turn : -turn
    const end = straight ?? weaveBlock(warp, done, block, net, way, limitPerM)
    if (!end) return { reversals, picks: done, most }
    if (way !== turn) reversals.push(done)
    turn = way
    net += turn * block
    done += block
    if (end.turnsPerM > most.turnsPerM) most = end
  }
  return { reversals, picks, most }
}

/** The most turns per metre within a block, or undefined where it passes the limit or the warp runs out. */
function weaveBlock(
  warp: BareWarp,
  done: number,
  block: number,
  net: number,
  turn: number,
  limitPerM: number,
): { turnsPerM: number; pick: number } | undefined {
  let most = { turnsPerM: 0, pick: done }
  for (let step = 1; step <= block; step++) {
    const leftM = bareAfter(warp, done + step) / 1000
    const turns = Math.abs(net + turn * step) / 4
    if (leftM <= 0 || turns > limitPerM * leftM) return undefined
    if (turns / leftM > most.turnsPerM) most = { turnsPerM: turns / leftM, pick: done + step }
  }
  return most
}
