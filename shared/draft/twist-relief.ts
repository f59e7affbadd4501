import { requirePositive } from '../measure/argument.ts'
import { bareAfter, type BareWarp } from './twist-forecast.ts'
import type { Turning } from './woven.ts'

/** What it costs to take twist out of the bare warp while the band is woven, the turning left as drafted. */
export interface TwistRelief {
  /** Picks after which the work stops to let the twist out, rising. */
  readonly stops: readonly number[]
  /** Tablets whose threads are turned back at some stop, from 1. */
  readonly tablets: readonly number[]
  /** Whole turns that are taken out by hand, all tablets and stops together. */
  readonly turns: number
}

/**
 * Letting twist out by hand: the knots at the far end are loosened and the threads of each twisted tablet turned back
 * before any tablet passes the limit, as late as that can be.
 * @param turning one repeat, woven again and again
 * @param warp as for `forecastTwist`
 * @param picks how many are wanted; where the warp runs out it ends
 * @param limitPerM turns per metre that the maker will weave with, more than zero
 * @returns stops, tablets and turns; nothing of them where the limit is never reached
 * @throws RangeError when an argument is out of range
 * @example one tablet always forward, 1000 mm bare, 1 mm a pick, 10 turns a metre, 60 picks: one stop after pick 38, 9.5 turns
 * Source: our own count; that twist is let out at the far end, by swivels or by turning tablets over is common practice, no source.
 */
export function twistRelief(turning: Turning, warp: BareWarp, picks: number, limitPerM: number): TwistRelief {
  requirePositive('limitPerM', limitPerM)
  const { tablets } = turning
  const net = new Int32Array(tablets)
  const stops: number[] = []
  const touched = new Set<number>()
  let quarters = 0
  for (let pick = 1; pick <= picks && turning.picks > 0; pick++) {
    const left = bareAfter(warp, pick) / 1000
    if (left <= 0) break
    const turns = turning.turns.subarray(
      ((pick - 1) % turning.picks) * tablets,
      (((pick - 1) % turning.picks) + 1) * tablets,
    )
    if (
      turns.some((turn, tablet) => Math.abs(net[tablet]! + turn) / 4 > limitPerM * left) &&
      net.some((one) => one !== 0)
    ) {
      stops.push(pick - 1)
      for (const [tablet, one] of net.entries()) {
        if (one === 0) continue
        touched.add(tablet + 1)
        quarters += Math.abs(one)
      }
      net.fill(0)
    }
    for (let tablet = 0; tablet < tablets; tablet++) net[tablet]! += turns[tablet]!
  }
  return { stops, tablets: [...touched].sort((left, right) => left - right), turns: quarters / 4 }
}
