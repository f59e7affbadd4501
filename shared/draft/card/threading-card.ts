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
  const ours = (count === 'right') !== (end === 'warp') ? draft.tablets.toReversed() : draft.tablets
  // Only the tablets are wanted, so no pick has to be converted.
  const named = fromFrame({ ...draft, tablets: draft.tablets, picks: [] }, card).tablets
  return named.map(({ threading, holes, part }, at) => {
    const tablet = ours[at]!
    const seen = readersHoles(tablet, card)
    const drawing = drawTabletOf(seen, tablet.threading, draft.colours)
    return { number: at + 1, threading, holes, part, drawing }
  })
}
