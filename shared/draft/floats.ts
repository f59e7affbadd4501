import { type Draft, HOLES, type Hole } from './draft.ts'
import type { Woven } from './woven.ts'

/** Floats longer than this many picks are worth a warning: steady turning gives 2 and a reversal 3. */
export const LONGEST_USUAL_FLOAT = 3

/** A run of picks in which one thread stays on top (face) or below (reverse). All numbers are counted from 1. */
export interface Float {
  readonly tablet: number
  readonly hole: Hole
  readonly side: 'face' | 'reverse'
  /** First and last pick. Over the seam, `to` may lie beyond the last pick of the repeat. */
  readonly from: number
  readonly to: number
  /** In picks. Infinity, only over the seam, for a thread that never changes side. */
  readonly length: number
}

export interface FloatOptions {
  /**
   * False (when not said): the repeat alone, as given, as if the band began and ended with it. A float that goes on
   * from the end of one repeat into the next is then two, each as long as it is within the repeat.
   * True: the repeat woven again and again. Every float that begins in a repeat is given once, as long as it really
   * becomes; one that comes in from the repeat before is given where it begins, at the end. When the repeat does not
   * close, the letters are those of its first weaving.
   */
  readonly overSeam?: boolean
}

/**
 * Walks over every float of a draft without making a list: the longest draft has millions. Empty holes have no thread
 * and no float. Tablet and hole are counted from 0, `from` is a pick from 0.
 * @throws RangeError when `woven` is for another number of tablets
 */
export function visitFloats(
  draft: Draft,
  woven: Woven,
  options: FloatOptions,
  visit: (tablet: number, hole: number, onFace: boolean, from: number, length: number) => void,
): void {
  const { tablets, picks, topNear, net } = woven
  if (draft.tablets.length !== tablets) {
    throw new RangeError(`woven.tablets must be the draft's ${draft.tablets.length}, got ${tablets}`)
  }
  if (picks === 0) return
  const overSeam = options.overSeam ?? false
  const threaded = Uint8Array.from(draft.tablets.flatMap(({ holes }) => holes.map((key) => (key === null ? 0 : 1))))
  // The first pick (from 0) of the float that each thread is in; -1 while it is one that began before the repeat.
  const began = new Int32Array(tablets * 4).fill(overSeam ? -1 : 0)
  const changed = new Uint8Array(tablets * 4)
  const top = Uint8Array.from({ length: tablets }, (_, tablet) => {
    return overSeam ? (topNear[(picks - 1) * tablets + tablet]! - net[tablet]!) & 3 : topNear[tablet]!
  })
  let open = 0

  // Every tablet is back at its start after four repeats, so a float that began in the first ends within five.
  for (let pick = 0; pick < picks || (open > 0 && pick < picks * 5); pick++) {
    const row = (pick % picks) * tablets
    const repeat = Math.floor(pick / picks)
    for (let tablet = 0; tablet < tablets; tablet++) {
      const now = (topNear[row + tablet]! + repeat * net[tablet]!) & 3
      const before = top[tablet]!
      if (now === before) continue
      top[tablet] = now
      for (let hole = 0; hole < 4; hole++) {
        const wasUp = isUp(hole, before)
        const at = tablet * 4 + hole
        if (wasUp === isUp(hole, now) || threaded[at] === 0) continue
        const from = began[at]!
        if (from >= 0) visit(tablet, hole, wasUp, from, pick - from)
        if (overSeam && from >= 0) open--
        if (overSeam && pick < picks) open++
        began[at] = pick < picks ? pick : -1
        changed[at] = 1
      }
    }
  }
  for (let at = 0; at < began.length; at++) {
    const tablet = at >> 2
    const hole = at & 3
    if (threaded[at] === 0) continue
    if (!overSeam) visit(tablet, hole, isUp(hole, top[tablet]!), began[at]!, picks - began[at]!)
    else if (changed[at] === 0 && net[tablet]! % 4 === 0) visit(tablet, hole, isUp(hole, top[tablet]!), 0, Infinity)
  }
}

/** The two holes on top are the one at top-near and the one before it, at top-far. */
function isUp(hole: number, topNear: number): boolean {
  return ((topNear - hole) & 3) < 2
}

/**
 * The floats of a draft that are longer than so many picks, in order of tablet, then pick, then hole.
 * Steady turning gives floats of 2, a reversal 3, a half turn 1.
 * @param longerThan in picks, 0 or more; 0 lists every float
 * @param options the repeat alone, or over the seam between repeats: see `FloatOptions`
 * @throws RangeError when longerThan is not a whole number from 0, or `woven` is for another number of tablets
 * @example listFloats(draft, woven, 3) // [{ tablet: 2, hole: 'B', side: 'face', from: 5, to: 8, length: 4 }]
 * @example a tablet that never turns: two face and two reverse floats as long as the repeat; over the seam, Infinity
 * Source: our own.
 */
export function listFloats(draft: Draft, woven: Woven, longerThan: number, options: FloatOptions = {}): Float[] {
  if (!Number.isInteger(longerThan) || longerThan < 0) {
    throw new RangeError(`longerThan must be a whole number from 0, got ${longerThan}`)
  }
  const floats: Float[] = []
  visitFloats(draft, woven, options, (tablet, hole, onFace, from, length) => {
    if (length <= longerThan) return
    const side = onFace ? 'face' : 'reverse'
    floats.push({ tablet: tablet + 1, hole: HOLES[hole]!, side, from: from + 1, to: from + length, length })
  })
  return floats.sort((a, b) => a.tablet - b.tablet || a.from - b.from || (a.hole < b.hole ? -1 : 1))
}

/**
 * The longest float on each side, in picks; 0 where no thread is.
 * @throws RangeError when `woven` is for another number of tablets
 * @example longestFloat(draft, woven) // { face: 3, reverse: 2 }
 */
export function longestFloat(
  draft: Draft,
  woven: Woven,
  options: FloatOptions = {},
): { face: number; reverse: number } {
  const longest = { face: 0, reverse: 0 }
  visitFloats(draft, woven, options, (_tablet, _hole, onFace, _from, length) => {
    const side = onFace ? 'face' : 'reverse'
    if (length > longest[side]) longest[side] = length
  })
  return longest
}
