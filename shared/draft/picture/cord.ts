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
  const book = newStitchBook()
  const cords = draft.tablets.map((_, at) => {
    const cord = new Uint32Array(picks)
    traceCord(book, draft, woven, { side, at, from: 0, to: picks }, cord)
    return cord
  })
  return { stitches: book.stitches, cords: side === 'face' ? cords : cords.reverse() }
}

/** Different stitches as they turn up, each with a place that stays its own. */
export interface StitchBook {
  readonly stitches: Stitch[]
  /** Build of a tablet → place by what the cord does there, -1 for none yet. */
  readonly places: Map<string, Int32Array>
}

export const newStitchBook = (): StitchBook => ({ stitches: [], places: new Map() })

/** A stretch of one cord: tablet `at` (from 0), picks `from` to before `to` (from 0, beyond the repeat it goes on). */
export interface Stretch {
  readonly side: Side
  readonly at: number
  readonly from: number
  readonly to: number
}

/**
 * The stitches of a stretch of one cord, without looking at more of the band than it must.
 * @param book grows by the stitches that are new in it
 * @param into receives their places in the book, from `offset` on
 * @example traceCord(book, draft, woven, { side: 'face', at: 3, from: 40, to: 60 }, new Uint32Array(20))
 */
export function traceCord(
  book: StitchBook,
  draft: Pick<Draft, 'tablets'>,
  woven: Woven,
  { side, at, from, to }: Stretch,
  into: Uint32Array,
  offset = 0,
): void {
  const tablet = draft.tablets[at]!
  const known = knownOf(book, tablet)
  const sideHoles = side === 'face' ? 0 : 2
  const { picks, tablets, topNear, slant } = woven
  const first = HOLES.indexOf(tablet.start)
  const kindAt = kindsOf(tablet, woven, at)
  let row = from % picks
  let cell = row * tablets + at
  let drift = Math.floor(from / picks) * woven.net[at]!
  let rose = roseBefore(kindAt, row, picks)
  let [below, kind] = [weftBetween(kindAt(row === 0 ? picks - 1 : row - 1), kindAt(row), rose), kindAt(row)]
  let before = row === 0 ? first : topNear[cell - tablets]!
  for (let pick = from; pick < to; pick++) {
    const after = topNear[cell]!
    const isLast = row + 1 === picks
    const nextCell = isLast ? at : cell + tablets
    const nextBefore = isLast ? first : after
    const kindNext = kindOf(topNear[nextCell]! - nextBefore, slant[nextCell]!)
    if (kind !== shape.STRAIGHT) rose = rises(kind)
    const above = weftBetween(kind, kindNext, rose)
    const near = (before + drift) & 3
    const code = (((kind * WEFTS + below) * WEFTS + above) * 4 + near) * 4 + sideHoles
    let place = known[code]!
    if (place < 0) {
      place = known[code] = book.stitches.length
      book.stitches.push(stitchOf(tablet, { kind, below, above }, near + sideHoles, after + drift + sideHoles))
    }
    into[offset + pick - from] = place
    below = above
    kind = kindNext
    cell = nextCell
    before = nextBefore
    row = isLast ? 0 : row + 1
    if (isLast) drift += woven.net[at]!
  }
}

const [KINDS, WEFTS] = [5, 6]

function knownOf({ places }: StitchBook, { threading, holes }: Tablet): Int32Array {
  const build = `${threading} ${holes[0]} ${holes[1]} ${holes[2]} ${holes[3]}`
  let known = places.get(build)
  if (known === undefined) places.set(build, (known = new Int32Array(KINDS * WEFTS * WEFTS * 16).fill(-1)))
  return known
}

function stitchOf(tablet: Tablet, drawn: shape.StitchShape, before: number, after: number): Stitch {
  const holes = holesIn(drawn.kind, tablet.threading === 'S', before, after)
  return { ...drawn, threads: holes.map((hole) => tablet.holes[hole]!), shown: shownIn(drawn.kind, drawn.above) }
}

/** What the cord does at a row of the repeat. */
function kindsOf({ start }: Tablet, { tablets, topNear, slant }: Woven, at: number): (row: number) => number {
  const first = HOLES.indexOf(start)
  return (row) => {
    const cell = row * tablets + at
    return kindOf(topNear[cell]! - (row === 0 ? first : topNear[cell - tablets]!), slant[cell]!)
  }
}

/** @param quarters by how much the tablet stands further, in any number of whole rounds */
function kindOf(quarters: number, slant: number): number {
  const turn = quarters & 3
  const lean = slant === SLASH ? shape.RISING : shape.FALLING
  return turn === 0 ? shape.STRAIGHT : turn === 2 ? lean + 2 : lean
}

/** How the threads lie over the weft between two picks; `rose` tells of the last turn up to the first of them. */
function weftBetween(kind: number, next: number, rose: boolean | undefined): number {
  if (rose === undefined) return shape.STRAIGHT_BOTH
  if (kind === shape.STRAIGHT || next === shape.STRAIGHT) return rose ? shape.STRAIGHT_RIGHT : shape.STRAIGHT_LEFT
  if (rises(next) === rose) return shape.CROSSING
  return rose ? shape.BOWED_RIGHT : shape.BOWED_LEFT
}

const rises = (kind: number) => kind === shape.RISING || kind === shape.RISING_TWICE

/**
 * Whether the last turn before a row rises, the repeat taken as going on for ever; undefined when the tablet never turns.
 */
function roseBefore(kindAt: (row: number) => number, row: number, picks: number): boolean | undefined {
  for (let back = 1; back <= picks; back++) {
    const kind = kindAt((row - back + picks) % picks)
    if (kind !== shape.STRAIGHT) return rises(kind)
  }
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
