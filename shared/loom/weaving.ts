import { type Draft, HOLES } from '../draft/draft.ts'
import { turningOf } from '../draft/turning.ts'
import type { Turning } from '../draft/woven.ts'

/** What a plan does with the border tablets at its reversals; `drafted`: they turn as the draft says. */
export type BorderWay = 'drafted' | 'reverse' | 'flip'

/** A draft woven over a whole piece, its borders as the plan says. Everything below is counted from the first pick. */
export interface Weaving {
  readonly draft: Draft
  readonly turning: Turning
  readonly isBorder: readonly boolean[]
  readonly way: BorderWay
  /** Picks after which the plan turns the borders the other way, rising. */
  readonly reversals: readonly number[]
}

/**
 * @param reversals of the plan, in any order; not looked at where borders turn as drafted
 * @throws RangeError when the draft's picks cannot be read
 */
export function weavingOf(draft: Draft, way: BorderWay, reversals: readonly number[]): Weaving {
  return {
    ...{ draft, way, turning: turningOf(draft), isBorder: draft.tablets.map(({ part }) => part === 'border') },
    reversals: way === 'drafted' ? [] : [...new Set(reversals)].sort((left, right) => left - right),
  }
}

/** Whether so many reversals were passed that the borders twine the other way than drafted. */
const isTurned = ({ reversals }: Weaving, place: number) => reversals.filter((after) => after <= place).length % 2 === 1

/**
 * What every tablet does at the pick after `place`, as a hand turns it: tablets that were flipped over are turned on the
 * same way.
 * @param place picks woven before it
 * @returns one turn a tablet, tablet 1 of the draft first
 */
export const rowAt = (weaving: Weaving, place: number): Int8Array =>
  toRow(weaving, place, weaving.way === 'reverse' && isTurned(weaving, place))

/** The same as the cord twines: a tablet that was flipped over twines as one that turns back. */
export const twinedAt = (weaving: Weaving, place: number): Int8Array => toRow(weaving, place, isTurned(weaving, place))

function toRow({ turning, isBorder }: Weaving, place: number, turnsBack: boolean): Int8Array {
  const { tablets, picks, turns } = turning
  const from = (place % picks) * tablets
  const row = turns.slice(from, from + tablets)
  if (turnsBack) for (let at = 0; at < tablets; at++) if (isBorder[at]) row[at] = -row[at]!
  return row
}

/**
 * Net quarter turns of every tablet after `place` picks, as the cords twine, forward positive.
 * @example a border tablet that turns forward at every pick, reversed after 4, after 6 picks: 2
 */
export function netAt(weaving: Weaving, place: number): Int32Array {
  const { turning, isBorder, reversals } = weaving
  const passed = reversals.filter((after) => after < place)
  const ends = [0, ...passed, place]
  const sums = ends.map((end) => drafted(turning, end))
  const net = Int32Array.from(sums.at(-1)!)
  for (let at = 0; at < turning.tablets; at++) {
    if (!isBorder[at]) continue
    net[at] = 0
    for (let stretch = 1; stretch < ends.length; stretch++)
      net[at]! += (stretch % 2 === 1 ? 1 : -1) * (sums[stretch]![at]! - sums[stretch - 1]![at]!)
  }
  return net
}

/** Net turns by the draft alone. */
function drafted({ tablets, picks, turns }: Turning, place: number): Int32Array {
  const [repeats, rest] = [Math.floor(place / picks), place % picks]
  const net = new Int32Array(tablets)
  for (let pick = 0; pick < picks; pick++) {
    const times = repeats + (pick < rest ? 1 : 0)
    if (times === 0) break
    for (let at = 0; at < tablets; at++) net[at]! += times * turns[pick * tablets + at]!
  }
  return net
}

/**
 * The stretch of the band from one pick to another as a draft of its own, each tablet starting as it stands there.
 * @param from picks before it
 * @param to picks before its end, more than `from`
 */
export function stretchOf(weaving: Weaving, from: number, to: number): { draft: Draft; turning: Turning } {
  const { draft, turning } = weaving
  const net = netAt(weaving, from)
  const turns = new Int8Array((to - from) * turning.tablets)
  for (let pick = from; pick < to; pick++) turns.set(twinedAt(weaving, pick), (pick - from) * turning.tablets)
  const tablets = draft.tablets.map((tablet, at) => ({
    ...tablet,
    start: HOLES[(HOLES.indexOf(tablet.start) + net[at]!) & 3]!,
  }))
  return { draft: { ...draft, tablets }, turning: { tablets: turning.tablets, picks: to - from, turns } }
}
