import { requireNotNegative, requirePositive, requireWhole } from '../measure/argument.ts'
import type { Turning } from './woven.ts'

/** A warp on the loom, before its first pick. */
export interface BareWarp {
  /** From the tablets to where the far end is held, in mm. */
  readonly bareMm: number
  /** Band woven by one pick, in mm. */
  readonly pickMm: number
  /** Warp that goes into a mm of band: 1 and more, 1.1 for a take-up of 10 % of the woven length. */
  readonly warpPerWoven: number
}

export interface TwistForecast {
  /** Picks that were looked at, from 1. */
  readonly picks: number
  /** By pick (0 is before the first): the most turns per metre of any tablet, in the bare warp that is left. */
  readonly turnsPerM: Float64Array
  /** The tablet (from 1) that carries the most at the end, and its net quarter turns, forward positive. */
  readonly worst: { readonly tablet: number; readonly net: number }
  /** The first pick after which some tablet is over the limit, with all that are; null where none ever is. */
  readonly over: { readonly pick: number; readonly tablets: readonly number[] } | null
  /** The pick at which no bare warp is left; null where it lasts. */
  readonly outAt: number | null
  /** Picks that can be woven within the limit and the warp, and their length in mm. */
  readonly weavablePicks: number
  readonly weavableMm: number
}

/**
 * How twist builds up in the bare warp as a band grows: the turns stay in the warp, and the warp becomes shorter. After p
 * picks a tablet with net quarter turns q has put q / 4 turns into bareMm - p x pickMm x warpPerWoven.
 * @param turning one repeat, woven again and again
 * @param warp lengths in mm, the bare warp and the pick more than zero, warpPerWoven 1 or more
 * @param picks how many picks are wanted, a whole number, zero or more
 * @param limitPerM turns per metre that the maker will weave with, more than zero
 * @returns figures as in `TwistForecast`; where the warp runs out the forecast ends
 * @throws RangeError when an argument is out of range
 * @example one tablet always forward, 1000 mm bare, 1 mm a pick, no take-up: after 100 picks 25 turns in 0.9 m, 27.8 a metre
 * Source: our own, from the frame in which a tablet that turns once twists the bare warp once; that the twist spreads
 * evenly over the bare warp is a simplification, for some of it stays close behind the tablets.
 */
export function forecastTwist(turning: Turning, warp: BareWarp, picks: number, limitPerM: number): TwistForecast {
  requireWhole('picks', picks, 0)
  requirePositive('limitPerM', limitPerM)
  const bareM = (pick: number) => bareAfter(warp, pick) / 1000
  const net = new Int32Array(turning.tablets)
  const turnsPerM: number[] = [0]
  let over: TwistForecast['over'] = null
  let outAt: number | null = null
  for (let pick = 1; pick <= picks; pick++) {
    if (turning.picks === 0) break
    const left = bareM(pick)
    if (left <= 0) {
      outAt = pick
      break
    }
    const row = ((pick - 1) % turning.picks) * turning.tablets
    let most = 0
    for (let tablet = 0; tablet < turning.tablets; tablet++) {
      net[tablet]! += turning.turns[row + tablet]!
      most = Math.max(most, Math.abs(net[tablet]!))
    }
    turnsPerM.push(most / 4 / left)
    if (over === null && most / 4 > limitPerM * left) {
      const tablets = [...net.keys()].filter((tablet) => Math.abs(net[tablet]!) / 4 > limitPerM * left)
      over = { pick, tablets: tablets.map((tablet) => tablet + 1) }
    }
  }
  const woven = turnsPerM.length - 1
  const weavablePicks = over === null ? woven : over.pick - 1
  return {
    picks: woven,
    turnsPerM: Float64Array.from(turnsPerM),
    worst: worstOf(net),
    over,
    outAt,
    weavablePicks,
    weavableMm: weavablePicks * warp.pickMm,
  }
}

/**
 * Bare warp that is left after so many picks, in mm; below zero where there is not enough.
 * @throws RangeError when a length is out of range
 * @example bareAfter({ bareMm: 1000, pickMm: 1, warpPerWoven: 1.1 }, 100) // 890
 */
export function bareAfter({ bareMm, pickMm, warpPerWoven }: BareWarp, picks: number): number {
  requirePositive('bareMm', bareMm)
  requirePositive('pickMm', pickMm)
  if (requireNotNegative('warpPerWoven', warpPerWoven) < 1)
    throw new RangeError(`warpPerWoven must be 1 or more, not ${warpPerWoven}`)
  return bareMm - picks * pickMm * warpPerWoven
}

function worstOf(net: Int32Array): { tablet: number; net: number } {
  let worst = 0
  for (let tablet = 1; tablet < net.length; tablet++) if (Math.abs(net[tablet]!) > Math.abs(net[worst]!)) worst = tablet
  return { tablet: worst + 1, net: net[worst] ?? 0 }
}
