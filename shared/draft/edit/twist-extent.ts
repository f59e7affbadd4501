import { requireWhole } from '../../measure/argument.ts'
import type { Tablet } from '../draft.ts'
import type { Turning } from '../woven.ts'

/** Neighbours of one part that turn alike, and how far their twist goes. */
export interface TwistExtent {
  /** First and last tablet, from 0. */
  readonly from: number
  readonly to: number
  readonly part: Tablet['part']
  /** Quarter turns: least and most on the way, and how many before pick `before`; forward is positive. */
  readonly least: number
  readonly most: number
  readonly netBefore: number
}

/**
 * The twist of a turning summed up by stretches of picks, so that after an edit only the stretches are summed anew in
 * which a turn differs. Of every stretch and tablet: `[stretch * tablets + tablet]`.
 */
export interface LiveTwist {
  summed: Turning
  /** Quarter turns over the stretch, and the least and the most on its way. */
  net: Int32Array
  least: Int32Array
  most: Int32Array
  /** 1 where the tablet turns otherwise than the one before it. */
  unlike: Uint8Array
}

/** Picks of a stretch. Our own: few enough to be summed unseen, and a long draft has no more than a few dozen. */
const STRETCH = 64

const NO_TURNS: Turning = { tablets: 0, picks: 0, turns: new Int8Array(0) }

export const startLiveTwist = (): LiveTwist => ({
  ...{ summed: NO_TURNS, net: new Int32Array(0), least: new Int32Array(0), most: new Int32Array(0) },
  unlike: new Uint8Array(0),
})

/**
 * What a twist trace needs to be laid out, in one pass over the turns: `lanesOf` without its runs, which a long draft has
 * by the hundred thousand.
 * @param before a pick from 0; where a part of the trace begins
 * @throws RangeError when `tablets` are not as many as the turning turns, or `before` is not a whole number from 0
 * @example twistExtents(tablets, turning, 0)[0] // { from: 0, to: 1, part: 'border', least: 0, most: 72, netBefore: 0 }
 * Source: our own.
 */
export const twistExtents = (tablets: readonly Tablet[], turning: Turning, before: number): TwistExtent[] =>
  followTwist(startLiveTwist(), tablets, turning, before)

/**
 * The same, summing only what differs from the turning that `live` has followed last. That one is compared, so it must
 * not have been altered in place.
 * @throws RangeError as `twistExtents` does
 * @example followTwist(live, tablets, turning, 0) // what twistExtents(tablets, turning, 0) gives
 */
export function followTwist(
  live: LiveTwist,
  tablets: readonly Tablet[],
  turning: Turning,
  before: number,
): TwistExtent[] {
  const wide = turning.tablets
  if (tablets.length !== wide) throw new RangeError(`tablets must be the turning's ${wide}, not ${tablets.length}`)
  requireWhole('before', before, 0)
  sumAnew(live, turning)
  const [net, least, most] = [new Int32Array(wide), new Int32Array(wide), new Int32Array(wide)]
  const unlike = new Uint8Array(wide)
  const stretches = Math.ceil(turning.picks / STRETCH)
  for (let stretch = 0, at = 0; stretch < stretches; stretch++) {
    for (let tablet = 0; tablet < wide; tablet++, at++) {
      const sum = net[tablet]!
      if (sum + live.least[at]! < least[tablet]!) least[tablet] = sum + live.least[at]!
      if (sum + live.most[at]! > most[tablet]!) most[tablet] = sum + live.most[at]!
      net[tablet] = sum + live.net[at]!
      unlike[tablet]! |= live.unlike[at]!
    }
  }
  const netBefore = netAt(live, Math.min(before, turning.picks))
  const extents: TwistExtent[] = []
  for (let from = 0, to = 0; from < wide; from = to + 1) {
    const { part } = tablets[from]!
    to = from
    while (to + 1 < wide && unlike[to + 1] === 0 && tablets[to + 1]!.part === part) to++
    extents.push({ ...{ from, to, part }, least: least[from]!, most: most[from]!, netBefore: netBefore[from]! })
  }
  return extents
}

/** Sums those stretches that are not what they were. */
function sumAnew(live: LiveTwist, turning: Turning): void {
  const { tablets, picks, turns } = turning
  const was = live.summed
  const isOther = was.tablets !== tablets || was.picks !== picks
  if (isOther) {
    const cells = Math.ceil(picks / STRETCH) * tablets
    live.net = new Int32Array(cells)
    live.least = new Int32Array(cells)
    live.most = new Int32Array(cells)
    live.unlike = new Uint8Array(cells)
  }
  live.summed = turning
  if (!isOther && was.turns === turns) return
  const long = STRETCH * tablets
  for (let from = 0, at = 0; from < turns.length; from += long, at += tablets) {
    const end = Math.min(from + long, turns.length)
    if (isOther || differs(was.turns, turns, from, end)) sumStretch(live, turning, from, end, at)
  }
}

function differs(was: Int8Array, is: Int8Array, from: number, end: number): boolean {
  for (let cell = from; cell < end; cell++) if (was[cell] !== is[cell]) return true
  return false
}

function sumStretch(
  { net, least, most, unlike }: LiveTwist,
  { tablets, turns }: Turning,
  from: number,
  end: number,
  first: number,
): void {
  for (const sums of [net, least, most, unlike]) sums.fill(0, first, first + tablets)
  for (let row = from; row < end; row += tablets) {
    for (let tablet = 0, cell = row, at = first; tablet < tablets; tablet++, cell++, at++) {
      const turn = turns[cell]!
      const sum = net[at]! + turn
      net[at] = sum
      if (sum < least[at]!) least[at] = sum
      else if (sum > most[at]!) most[at] = sum
      if (tablet > 0 && turns[cell - 1] !== turn) unlike[at] = 1
    }
  }
}

/** Quarter turns of every tablet before a pick. */
function netAt({ summed: { tablets, turns }, net }: LiveTwist, pick: number): Int32Array {
  const sums = new Int32Array(tablets)
  const whole = Math.floor(pick / STRETCH)
  for (let at = 0; at < whole * tablets; at += tablets) {
    for (let tablet = 0; tablet < tablets; tablet++) sums[tablet]! += net[at + tablet]!
  }
  for (let row = whole * STRETCH * tablets; row < pick * tablets; row += tablets) {
    for (let tablet = 0; tablet < tablets; tablet++) sums[tablet]! += turns[row + tablet]!
  }
  return sums
}
