import { bareAfter, type BareWarp } from '../draft/twist-forecast.ts'
import { netAt, twinedAt, type Weaving } from './weaving.ts'

/** More picks than this are not looked through for the next reversal. */
const MOST_LOOKED_THROUGH = 20_000

/** What is twined into the bare warp, of the tablet that carries most. */
export interface Twisted {
  /** From 1, from the weaver's left. */
  readonly tablet: number
  /** Whole turns, forward positive. */
  readonly turns: number
  /** In the bare warp that is left; null where its length is not known, or none is left. */
  readonly perM: number | null
}

export interface BordersAhead {
  readonly hasBorders: boolean
  /** Of the border tablets, or of all where the draft has none. */
  readonly twist: Twisted
  /** Picks woven when the borders next turn the other way; null where they never do, or not within 20,000 picks. */
  readonly reversesAfter: number | null
  /** Whether that is a reversal of the plan, and not one of the draft. */
  readonly isPlanned: boolean
}

/**
 * Twist of the borders after `place` picks, and where they turn the other way next.
 * @param warp the bare warp before the first pick; null where it is not known
 * @example a border that turns forward, plan with a reversal after 40, at place 36: 9 turns, reversesAfter 40
 */
export function bordersAhead(weaving: Weaving, place: number, warp: BareWarp | null): BordersAhead {
  const { isBorder, reversals, turning } = weaving
  const hasBorders = isBorder.includes(true)
  const net = netAt(weaving, place)
  let most = -1
  for (let at = 0; at < net.length; at++) {
    if (hasBorders && !isBorder[at]) continue
    if (most < 0 || Math.abs(net[at]!) > Math.abs(net[most]!)) most = at
  }
  const turns = net[most]! / 4
  const leftM = warp === null ? 0 : bareAfter(warp, place) / 1000
  const planned = reversals.find((after) => after > place)
  const drafted = hasBorders ? turnsBackAfter(weaving, place, planned ?? place + 2 * turning.picks) : null
  return {
    hasBorders,
    twist: { tablet: most + 1, turns, perM: leftM > 0 ? Math.abs(turns) / leftM : null },
    reversesAfter: drafted ?? (hasBorders ? (planned ?? null) : null),
    isPlanned: (drafted === null || drafted === planned) && planned !== undefined && hasBorders,
  }
}

/** The first place, up to the planned one, after which some border tablet turns against its own last turn. */
function turnsBackAfter(weaving: Weaving, place: number, until: number): number | null {
  const { isBorder, turning } = weaving
  const last = new Int8Array(turning.tablets)
  const begin = Math.max(0, place - turning.picks)
  const end = Math.min(until, place + MOST_LOOKED_THROUGH)
  for (let at = begin; at <= end; at++) {
    const row = twinedAt(weaving, at)
    for (let tablet = 0; tablet < row.length; tablet++) {
      const turn = row[tablet]!
      if (!isBorder[tablet] || turn === 0) continue
      if (at >= place && turn * last[tablet]! < 0 && at > 0) return at
      last[tablet] = Math.sign(turn)
    }
  }
  return null
}
