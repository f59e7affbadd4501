import { type ColourKey, type Draft, type Hole, HOLES } from './draft.ts'
import { turningOf } from './turning.ts'

export type RecoverVerdict = 'right' | 'turnedTheOtherWay' | 'turnMissed' | 'turnedTwice' | 'impossible'

/** What is seen on top of one tablet after a pick. Pick and tablet are counted from 1. */
export interface SeenOnTop {
  readonly pick: number
  readonly tablet: number
  readonly topNear: Hole
  readonly topFar: Hole
  /** The last pick after which the tablet surely stood right; the one before `pick` when not said. */
  readonly rightUntil?: number
}

export interface Recovery {
  readonly expected: { readonly topNear: Hole; readonly topFar: Hole }
  readonly verdict: RecoverVerdict
  /** Quarter turns to make now, before the next pick, forward positive; 0 when there is nothing to turn. */
  readonly correction: number
  /** What the pick should show on the face, and what it shows; null where nothing, or where it cannot be known. */
  readonly face: { readonly expected: ColourKey | null; readonly woven: ColourKey | null }
  /** Picks to unweave for a face without a fault: 0 when it shows the right colours as it is. */
  readonly unweave: number
  /** The first pick from which the face is right when only the correction is made; above the repeat, one of the next. */
  readonly rightFrom: number
}

/**
 * What went wrong with a tablet, from the two threads on top of it, and how it is put right. The slip is taken to be in
 * this pick alone unless `rightUntil` says that it may be older. For picks of a quarter turn the verdicts are exact;
 * where the draft idles or makes a half turn, `turnMissed` means turned too little and `turnedTwice` too much.
 * @param seen holes on top after the pick; they must stand as holes of this tablet can, else `impossible`
 * @throws RangeError when pick, tablet or rightUntil is not in the draft, or its picks cannot be read
 * @example one tablet from A, turned F, with A at top-near after pick 1: turnMissed, correction 1
 * @example the same with D at top-near and C at top-far: turnedTheOtherWay, correction 2
 * Source: our own, from the four stands that a tablet can have.
 */
export function recover(draft: Draft, seen: SeenOnTop): Recovery {
  const { tablets, picks, turns } = turningOf(draft)
  const pick = requireWithin('pick', seen.pick, 1, picks)
  const tablet = requireWithin('tablet', seen.tablet, 1, tablets)
  const rightUntil = requireWithin('rightUntil', seen.rightUntil ?? pick - 1, 0, pick - 1)
  const turnAt = (at: number) => turns[((at - 1) % picks) * tablets + tablet - 1]!
  const { holes, start } = draft.tablets[tablet - 1]!
  let stand = HOLES.indexOf(start)
  let shown = -1
  for (let at = 1; at <= pick; at++) {
    shown = turnAt(at) === 0 ? shown : shownBy(stand, turnAt(at))
    stand = (stand + turnAt(at)) & 3
  }
  const colourOf = (hole: number) => (hole < 0 ? null : (holes[hole] ?? draft.weft))
  const expected = { topNear: HOLES[stand]!, topFar: HOLES[(stand - 1) & 3]! }
  const near = HOLES.indexOf(seen.topNear)
  const isStand = HOLES.indexOf(seen.topFar) === ((near - 1) & 3)
  const over = (near - stand) & 3
  const right = { expected, face: { expected: colourOf(shown), woven: colourOf(shown) }, unweave: 0, rightFrom: pick }
  if (!isStand) {
    return { ...right, verdict: 'impossible', correction: 0, face: { ...right.face, woven: null } }
  }
  if (over === 0) return { ...right, verdict: 'right', correction: 0 }
  const planned = turnAt(pick)
  const { verdict, correction } = judge(planned, over)
  const made = planned - correction
  const before = (stand - planned) & 3
  const shownBefore = lastShown(pick - 1)
  const woven = rightUntil < pick - 1 ? null : colourOf(made === 0 ? shownBefore : shownBy(before, made))
  // Of two stitches of one colour nobody sees on the face which was meant.
  const isSeen = rightUntil < pick - 1 || woven !== colourOf(shown)
  return {
    ...{ expected, verdict, correction, face: { expected: colourOf(shown), woven } },
    unweave: isSeen ? pick - rightUntil : 0,
    rightFrom: findRightFrom(),
  }

  function lastShown(until: number): number {
    let at = HOLES.indexOf(start)
    let last = -1
    for (let one = 1; one <= until; one++) {
      if (turnAt(one) !== 0) last = shownBy(at, turnAt(one))
      at = (at + turnAt(one)) & 3
    }
    return last
  }

  /** A turn after the correction shows the right thread; while the tablet idles, the thread of the correction shows. */
  function findRightFrom(): number {
    if (colourOf(shownBy(near, correction)) === colourOf(shown)) return pick + 1
    for (let next = pick + 1; next <= pick + picks; next++) if (turnAt(next) !== 0) return next
    return pick + 1
  }
}

/** The hole whose thread the last quarter of a turn carries across the top. */
function shownBy(stand: number, turn: number): number {
  return turn > 0 ? (stand + turn - 1) & 3 : (stand + turn) & 3
}

/**
 * @param planned quarter turns of the draft at this pick
 * @param over how far the tablet stands forward of where it should, 1 to 3
 */
function judge(planned: number, over: number): { verdict: RecoverVerdict; correction: number } {
  const sense = planned < 0 ? -1 : 1
  if (planned === 0) return { verdict: 'turnedTwice', correction: over === 3 ? 1 : -over }
  if (over === 2) {
    if (planned === 2 || planned === -2) return { verdict: 'turnMissed', correction: planned }
    return { verdict: 'turnedTheOtherWay', correction: 2 * sense }
  }
  const tooFar = over === (sense > 0 ? 1 : 3)
  return tooFar ? { verdict: 'turnedTwice', correction: -sense } : { verdict: 'turnMissed', correction: sense }
}

function requireWithin(name: string, value: number, least: number, most: number): number {
  if (Number.isInteger(value) && value >= least && value <= most) return value
  throw new RangeError(`${name} must be a whole number from ${least} to ${most}, not ${value}`)
}
