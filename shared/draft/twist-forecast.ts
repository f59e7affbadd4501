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

/** Border tablets that turn the other way after some picks. */
export interface ReversedBorders {
  /** By tablet, from the left. */
  readonly isBorder: readonly boolean[]
  /** Picks after which they turn the other way, rising. */
  readonly reversals: readonly number[]
}

export interface TwistForecast {
  /** Picks that were looked at, from 1. */
  readonly picks: number
  /** By pick (0 is before the first): the most turns per metre of any tablet, in the bare warp that is left. */
  readonly turnsPerM: Float64Array
  /** The same of border and of pattern tablets alone; all are pattern tablets where no borders are told. */
  readonly borderTurnsPerM: Float64Array
  readonly patternTurnsPerM: Float64Array
  /** Net quarter turns of every tablet at the end, forward positive. */
  readonly net: Int32Array
  /** By tablet: the first pick after which it is over the limit; 0 where it never is. */
  readonly overAfter: Int32Array
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
 * @param borders which tablets are border tablets, and where these turn the other way; none unless told
 * @returns figures as in `TwistForecast`; where the warp runs out the forecast ends
 * @throws RangeError when an argument is out of range
 * @example one tablet always forward, 1000 mm bare, 1 mm a pick, no take-up: after 100 picks 25 turns in 0.9 m, 27.8 a metre
 * Source: our own, from the frame in which a tablet that turns once twists the bare warp once; that the twist spreads
 * evenly over the bare warp is a simplification, for some of it stays close behind the tablets.
 */
export function forecastTwist(
  turning: Turning,
  warp: BareWarp,
  picks: number,
  limitPerM: number,
  borders: ReversedBorders = { isBorder: [], reversals: [] },
): TwistForecast {
  requireWhole('picks', picks, 0)
  requirePositive('limitPerM', limitPerM)
  const { tablets } = turning
  const net = new Int32Array(tablets)
  const overAfter = new Int32Array(tablets)
  const [border, pattern]: [number[], number[]] = [[0], [0]]
  const reversals = new Set(borders.reversals)
  let way = 1
  let outAt: number | null = null
  for (let pick = 1; pick <= picks && turning.picks > 0; pick++) {
    const left = bareAfter(warp, pick) / 1000
    if (left <= 0) {
      outAt = pick
      break
    }
    if (reversals.has(pick - 1)) way = -way
    const row = ((pick - 1) % turning.picks) * tablets
    let [mostBorder, mostPattern] = [0, 0]
    for (let tablet = 0; tablet < tablets; tablet++) {
      const isBorder = borders.isBorder[tablet] === true
      net[tablet]! += (isBorder ? way : 1) * turning.turns[row + tablet]!
      const quarters = Math.abs(net[tablet]!)
      if (isBorder) mostBorder = Math.max(mostBorder, quarters)
      else mostPattern = Math.max(mostPattern, quarters)
      if (overAfter[tablet] === 0 && quarters / 4 > limitPerM * left) overAfter[tablet] = pick
    }
    border.push(mostBorder / 4 / left)
    pattern.push(mostPattern / 4 / left)
  }
  const woven = border.length - 1
  const first = overAfter.reduce((least, pick) => (pick > 0 && (least === 0 || pick < least) ? pick : least), 0)
  const tabletsOver = [...overAfter.keys()].filter((tablet) => first > 0 && overAfter[tablet] === first)
  const weavablePicks = first === 0 ? woven : first - 1
  return {
    picks: woven,
    turnsPerM: Float64Array.from(border, (most, pick) => Math.max(most, pattern[pick]!)),
    borderTurnsPerM: Float64Array.from(border),
    patternTurnsPerM: Float64Array.from(pattern),
    net,
    overAfter,
    worst: worstOf(net),
    over: first === 0 ? null : { pick: first, tablets: tabletsOver.map((tablet) => tablet + 1) },
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
