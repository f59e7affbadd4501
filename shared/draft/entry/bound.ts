import { requirePositive, requireWhole } from '../../measure/argument.ts'
import type { Draft } from '../draft.ts'
import type { DrawableDraft } from './draft-entry.ts'

/** Most stitches in one picture: 200 tablets by 600 picks. Beyond it a picture costs megabytes. Our own, by measuring. */
export const MOST_STITCHES = 120_000

/**
 * The picks from pick 1 on that one picture may hold.
 * @param mostStitches tablets x picks, a whole number from 1
 * @returns the draft itself when it fits; else as many of its first picks as fit, never less than one
 * @throws RangeError when mostStitches is not a whole number from 1
 * @example boundPicks(400 tablets x 20,000 picks, 120_000).turning.picks // 300
 */
export function boundPicks(drawable: DrawableDraft, mostStitches = MOST_STITCHES): DrawableDraft {
  requireWhole('mostStitches', mostStitches, 1)
  const { draft, turning } = drawable
  const picks = Math.max(1, Math.floor(mostStitches / turning.tablets))
  if (turning.picks <= picks) return drawable
  return {
    draft: { ...draft, picks: draft.picks.slice(0, picks) },
    turning: { tablets: turning.tablets, picks, turns: turning.turns.subarray(0, picks * turning.tablets) },
  }
}

/**
 * The same before the turning is read: a draft with no more picks than one picture may hold, so that nobody waits for
 * the reading of picks that are not drawn.
 * @returns the draft itself when it fits
 * @throws RangeError when mostStitches is not a whole number from 1
 * @example boundDraft(400 tablets x 20,000 picks).picks.length // 300
 */
export function boundDraft(draft: Draft, mostStitches = MOST_STITCHES): Draft {
  requireWhole('mostStitches', mostStitches, 1)
  const picks = Math.max(1, Math.floor(mostStitches / draft.tablets.length))
  return draft.picks.length <= picks ? draft : { ...draft, picks: draft.picks.slice(0, picks) }
}

/**
 * How many picks a picture beside the form shows: a whole draft goes on until the band is about one and a half times
 * as long as it is wide, in whole repeats; one that is only begun stands as far as it goes.
 * @param pickPerTablet height of a pick as a share of a tablet's width, above zero
 * @example shownPicks(24 tablets x 4 picks, true, 0.9) // 40
 */
export function shownPicks({ turning }: DrawableDraft, isWhole: boolean, pickPerTablet: number): number {
  const { tablets, picks } = turning
  if (!isWhole) return picks
  const repeats = Math.round((1.5 * tablets) / (picks * requirePositive('pickPerTablet', pickPerTablet)))
  return picks * Math.max(1, Math.min(repeats, Math.floor(MOST_STITCHES / (tablets * picks))))
}

/** More stitches than this are drawn flat: nobody sees a thread in them, and each key must be followed in a frame. */
const MOST_FINE_STITCHES = 12_000

/**
 * Whether a picture of so many stitches is drawn as threads rather than in flat colour.
 * @example isFine(24 * 216) // true; isFine(200 * 400) // false
 */
export const isFine = (stitches: number): boolean => stitches <= MOST_FINE_STITCHES
