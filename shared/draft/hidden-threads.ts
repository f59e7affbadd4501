import { type Draft, HOLES, type Hole } from './draft.ts'
import type { Woven } from './woven.ts'

export interface HiddenThread {
  /** Numbered from 1. */
  readonly tablet: number
  readonly hole: Hole
}

/**
 * The threads that never show on one side, however often the repeat is woven: in a repeat that does not close the
 * holes that show move on, and the later repeats count too. Empty holes are left out.
 * @param side 'face' or 'reverse'
 * @throws RangeError when `woven` is for another number of tablets
 * @example a tablet that starts at A and turns F B shows A alone: B, C and D; one that never turns: all four
 */
export function listHiddenThreads(draft: Draft, woven: Woven, side: 'face' | 'reverse'): HiddenThread[] {
  const { tablets, net } = woven
  if (draft.tablets.length !== tablets) {
    throw new RangeError(`woven.tablets must be the draft's ${draft.tablets.length}, got ${tablets}`)
  }
  const holes = woven[side]
  // One bit a hole.
  const shown = new Uint8Array(tablets)
  for (let cell = 0; cell < holes.length; cell++) if (holes[cell]! >= 0) shown[cell % tablets]! |= 1 << holes[cell]!
  return draft.tablets.flatMap((tablet, at) => {
    let ever = 0
    for (let repeat = 0; repeat < 4; repeat++) {
      const by = (net[at]! * repeat) & 3
      ever |= (shown[at]! << by) | (shown[at]! >> (4 - by))
    }
    return HOLES.filter((_, hole) => tablet.holes[hole] !== null && (ever & (1 << hole)) === 0).map((hole) => {
      return { tablet: at + 1, hole }
    })
  })
}
