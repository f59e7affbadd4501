import { requireWhole } from '../../measure/argument.ts'
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
