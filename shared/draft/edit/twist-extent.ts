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
 * What a twist trace needs to be laid out, in one pass over the turns: `lanesOf` without its runs, which a long draft has
 * by the hundred thousand.
 * @param before a pick from 0; where a part of the trace begins
 * @throws RangeError when `tablets` are not as many as the turning turns, or `before` is not a whole number from 0
 * @example twistExtents(tablets, turning, 0)[0] // { from: 0, to: 1, part: 'border', least: 0, most: 72, netBefore: 0 }
 * Source: our own.
 */
export function twistExtents(tablets: readonly Tablet[], turning: Turning, before: number): TwistExtent[] {
  const { picks, turns } = turning
  const wide = turning.tablets
  if (tablets.length !== wide) throw new RangeError(`tablets must be the turning's ${wide}, not ${tablets.length}`)
  requireWhole('before', before, 0)
  const [net, least, most] = [new Int32Array(wide), new Int32Array(wide), new Int32Array(wide)]
  const netBefore = new Int32Array(wide)
  const alike = new Uint8Array(wide).fill(1)
  for (let pick = 0, cell = 0; pick < picks; pick++) {
    if (pick === before) netBefore.set(net)
    for (let tablet = 0; tablet < wide; tablet++, cell++) {
      const turn = turns[cell]!
      const sum = net[tablet]! + turn
      net[tablet] = sum
      if (sum < least[tablet]!) least[tablet] = sum
      else if (sum > most[tablet]!) most[tablet] = sum
      if (tablet > 0 && turns[cell - 1] !== turn) alike[tablet] = 0
    }
  }
  if (before >= picks) netBefore.set(net)
  const extents: TwistExtent[] = []
  for (let from = 0, to = 0; from < wide; from = to + 1) {
    const { part } = tablets[from]!
    to = from
    while (to + 1 < wide && alike[to + 1] === 1 && tablets[to + 1]!.part === part) to++
    extents.push({ ...{ from, to, part }, least: least[from]!, most: most[from]!, netBefore: netBefore[from]! })
  }
  return extents
}
