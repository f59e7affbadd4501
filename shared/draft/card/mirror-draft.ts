import type { Draft } from '../draft.ts'
import { mirrorTablets } from '../threading.ts'
import { turningOf, writeTurning } from '../turning.ts'

/**
 * The draft as a mirror standing beside the band shows it, for the other hand: tablets in the opposite order with S and
 * Z changed over, each turned as before. What is woven is the band mirrored, its slants too.
 * @throws RangeError when its picks cannot be read
 * @example mirrorDraft({ …, picks: ['2F 1B'] }).picks // ['1B 2F']; twice is the draft again
 */
export function mirrorDraft(draft: Draft): Draft {
  const { tablets, picks, turns } = turningOf(draft)
  const mirrored = new Int8Array(turns.length)
  for (let at = 0; at < turns.length; at++) {
    const tablet = at % tablets
    mirrored[at] = turns[at - tablet + (tablets - 1 - tablet)]!
  }
  return {
    ...draft,
    tablets: mirrorTablets(draft.tablets),
    picks: writeTurning({ tablets, picks, turns: mirrored }),
  }
}
