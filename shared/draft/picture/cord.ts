import { requireWhole } from '../../measure/argument.ts'
import { type ColourKey, type Draft, HOLES, type Tablet } from '../draft.ts'
import { SLASH, type Woven } from '../woven.ts'
import * as shape from './stitch-shape.ts'

/** Which side of the cloth is looked at. */
export type Side = 'face' | 'reverse'

/** One pick of one cord: its shape, and its threads in the order of `threadOutlines`. */
export interface Stitch extends shape.StitchShape {
  /** Colour keys; null is an empty hole. */
  readonly threads: readonly (ColourKey | null)[]
  /** Which of the threads is the one that shows in this pick; -1 while the tablet has not turned at all. */
  readonly shown: number
}

/** The cords of a band from left to right as they are looked at. */
export interface Cords {
  /** Each different stitch once. */
  readonly stitches: readonly Stitch[]
  /** For each cord its stitches from pick 1 upward, as places in `stitches`. */
  readonly cords: readonly Uint32Array[]
}

/**
 * A band as its cords lie, pick by pick from the weaver upward.
 * A quarter turn brings a thread up at one edge of the cord: the left one in "/", the right one in "\". The two threads
 * over a weft lie beside each other. A reverse is seen turned over about the warp, as one turns a band in the hands:
 * tablet 1 is rightmost, and the cords lean as on the face, because a twined cord has the same twist from every side.
 * @param picks how many picks; beyond the draft's own the repeat goes on from where each tablet stands by then
 * @throws RangeError when `woven` does not belong to the draft, holds no pick, or picks is not a whole number above 0
 * @example cordsOf(draft, woven, 'reverse', 8).cords.at(-1) // the cord of tablet 1
 * Source: our own, from the tablet as a square whose four threads pass on to the four quarters of a cord.
 */
export function cordsOf(draft: Draft, woven: Woven, side: Side, picks: number): Cords {
  if (woven.tablets !== draft.tablets.length) {
    throw new RangeError(`woven.tablets must be the draft's ${draft.tablets.length}, not ${woven.tablets}`)
  }
  requireWhole('woven.picks', woven.picks, 1)
  requireWhole('picks', picks, 1)
  const stitches: Stitch[] = []
  const places = new Map<string, number[]>()
  const cords = draft.tablets.map((tablet, at) => {
    const build = [tablet.threading, ...tablet.holes].join(' ')
    let known = places.get(build)
    if (known === undefined) places.set(build, (known = []))
    return cordOf(tablet, woven, at, side === 'face' ? 0 : 2, picks, stitches, known)
  })
  return { stitches, cords: side === 'face' ? cords : cords.reverse() }
}

/** One cord. `stitches` grows by what is new; `known` remembers where the stitches of tablets built alike stand. */
function cordOf(
  tablet: Tablet,
  woven: Woven,
  at: number,
  sideHoles: number,
  picks: number,
  stitches: Stitch[],
  known: number[],
): Uint32Array {
  const start = HOLES.indexOf(tablet.start)
  const kinds = kindsOf(woven, at, start)
  const wefts = weftsOf(kinds)
  const cord = new Uint32Array(picks)
  for (let pick = 0, row = 0, drift = 0, near = start; pick < picks; pick++) {
    const kind = kinds[row]!
    const above = wefts[row]!
    const below = wefts[row === 0 ? woven.picks - 1 : row - 1]!
    const stand = (woven.topNear[row * woven.tablets + at]! + drift) & 3
    const code = (((kind * 6 + below) * 6 + above) * 4 + near) * 4 + sideHoles
    let place = known[code]
    if (place === undefined) {
      place = known[code] = stitches.length
      const holes = holesIn(kind, tablet.threading === 'S', near + sideHoles, stand + sideHoles)
      stitches.push({
        kind,
        below,
        above,
        threads: holes.map((hole) => tablet.holes[hole]!),
        shown: shownIn(kind, above),
      })
    }
    cord[pick] = place
    near = stand
    if (++row === woven.picks) {
      row = 0
      drift += woven.net[at]!
    }
  }
  return cord
}

function kindsOf(woven: Woven, at: number, start: number): Uint8Array {
  const kinds = new Uint8Array(woven.picks)
  for (let row = 0, cell = at, near = start; row < woven.picks; row++, cell += woven.tablets) {
    const stand = woven.topNear[cell]!
    const turn = (stand - near) & 3
    const lean = woven.slant[cell] === SLASH ? shape.RISING : shape.FALLING
    kinds[row] = turn === 0 ? shape.STRAIGHT : turn === 2 ? lean + 2 : lean
    near = stand
  }
  return kinds
}

/** How the threads lie over the weft above each pick; the repeat is taken as going on for ever. */
function weftsOf(kinds: Uint8Array): Uint8Array {
  const picks = kinds.length
  const wefts = new Uint8Array(picks)
  let rose = risesIn(kinds, picks)
  for (let row = 0; row < picks; row++) {
    const kind = kinds[row]!
    const next = kinds[row + 1 === picks ? 0 : row + 1]!
    if (kind !== shape.STRAIGHT) rose = rises(kind)
    if (rose === undefined) wefts[row] = shape.STRAIGHT_BOTH
    else if (kind === shape.STRAIGHT || next === shape.STRAIGHT) {
      wefts[row] = rose ? shape.STRAIGHT_RIGHT : shape.STRAIGHT_LEFT
    } else if (rises(next) === rose) wefts[row] = shape.CROSSING
    else wefts[row] = rose ? shape.BOWED_RIGHT : shape.BOWED_LEFT
  }
  return wefts
}

const rises = (kind: number) => kind === shape.RISING || kind === shape.RISING_TWICE

/** Whether the last turn before the end of the repeat rises; undefined when the tablet never turns. */
function risesIn(kinds: Uint8Array, end: number): boolean | undefined {
  for (let row = end - 1; row >= 0; row--) if (kinds[row] !== shape.STRAIGHT) return rises(kinds[row]!)
  return undefined
}

/** The holes of the threads seen in one pick, given which hole is top-near before and after it. */
function holesIn(kind: number, nearIsLeft: boolean, before: number, after: number): number[] {
  const left = (near: number) => (nearIsLeft ? near : near - 1) & 3
  const right = (near: number) => (nearIsLeft ? near - 1 : near) & 3
  switch (kind) {
    case shape.RISING:
      return [right(before), right(after), left(after)]
    case shape.FALLING:
      return [left(before), left(after), right(after)]
    case shape.RISING_TWICE:
      return [right(before), left(before), right(after), left(after)]
    case shape.FALLING_TWICE:
      return [left(before), right(before), left(after), right(after)]
    default:
      return [right(after), left(after)]
  }
}

function shownIn(kind: number, above: number): number {
  if (kind === shape.STRAIGHT) return above === shape.STRAIGHT_RIGHT ? 0 : above === shape.STRAIGHT_LEFT ? 1 : -1
  return kind === shape.RISING || kind === shape.FALLING ? 1 : 2
}
