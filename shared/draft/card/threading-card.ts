import type { ConventionCard } from '../convention/card.ts'
import { fromFrame, readersHoles } from '../convention/convert.ts'
import { assumed } from '../convention/card.ts'
import type { Draft, Tablet } from '../draft.ts'
import { drawTabletOf } from '../picture/tablet-drawing.ts'

/** One tablet to thread, as its reader sees and names it. */
export interface TabletToThread {
  /** Counted as the reader counts, from 1. */
  readonly number: number
  /** As the reader names it. */
  readonly threading: Tablet['threading']
  /** Its number in the draft itself, counted from the weaver's left. */
  readonly ours: number
  /** The reader's side of the tablet on which the thread comes in from the bare warp. */
  readonly fromSide: 'left' | 'right'
  /** By the reader's letters A to D; null is an empty hole. */
  readonly holes: readonly (string | null)[]
  readonly part: Tablet['part']
  /** SVG elements in a field of `TABLET_MM`: see `drawTabletOf`. The same for tablets that are alike. */
  readonly drawing: string
}

/**
 * The tablets of a draft in the order and with the letters of the reader's own convention.
 * @param draft of our frame
 * @throws RangeError when a colour is missing
 * @example threadingCard(draft, { ...OUR_FRAME, count: 'right' })[0] // our last tablet, number 1
 */
export function threadingCard(draft: Draft, card: ConventionCard): TabletToThread[] {
  const { end, count } = assumed(card)
  const isReversed = (count === 'right') !== (end === 'warp')
  const ours = isReversed ? draft.tablets.toReversed() : draft.tablets
  // Only the tablets are wanted, so no pick has to be converted.
  const named = fromFrame({ ...draft, tablets: draft.tablets, picks: [] }, card).tablets
  return named.map(({ threading, holes, part }, at) => {
    const tablet = ours[at]!
    const seen = readersHoles(tablet, card)
    const drawing = drawTabletOf(seen, tablet.threading, draft.colours)
    // S lies far-left to near-right: the bare warp is far from the weaver, and near to whoever sits at its end.
    const fromSide = (tablet.threading === 'S') === (end === 'warp') ? 'right' : 'left'
    const number = at + 1
    return { number, ours: isReversed ? ours.length - at : number, threading, fromSide, holes, part, drawing }
  })
}
