import type { Draft } from './draft.ts'
import { sayCount } from './number-words.ts'
import type { Recovery, SeenOnTop } from './recover.ts'

/** The answer at the loom: what to do first, then what it costs. */
export interface RecoveryWords {
  readonly verdict: string
  /** What to turn now; empty when nothing. */
  readonly now: string
  /** Unweaving or leaving it; empty when there is nothing to choose. */
  readonly then: readonly string[]
}

/**
 * What a recovery means, in words for somebody who stands at the loom.
 * @param draft the one that `recover` was asked about
 * @example sayRecovery(draft, seen, recovery).now // 'Turn tablet 4 half a turn forward (2 quarter turns) now.'
 */
export function sayRecovery(draft: Draft, seen: SeenOnTop, recovery: Recovery): RecoveryWords {
  const { expected, verdict, correction, face, unweave, rightFrom } = recovery
  const should = `After pick ${seen.pick} tablet ${seen.tablet} should have ${expected.topNear} at top-near and ${expected.topFar} at top-far.`
  if (verdict === 'right') return { verdict: `It stands right. ${should}`, now: '', then: [] }
  if (verdict === 'impossible') {
    const why = `${seen.topNear} at top-near with ${seen.topFar} at top-far cannot be: the letters of a tablet run A, B, C, D from top-near by bottom-near and bottom-far to top-far, so behind ${seen.topNear} stands ${behind(seen.topNear)}.`
    return {
      verdict: `Please look again. ${why}`,
      now: '',
      then: [
        `If the tablet really shows this, it was turned over in the pack or threaded otherwise than the draft says. ${should}`,
      ],
    }
  }
  const colour = (key: string | null) => (key === null ? 'nothing' : (draft.colours[key]?.name ?? key))
  const seenOnFace =
    unweave === 0
      ? `The face of this pick shows ${colour(face.woven)} as it should, so nothing need be unwoven for the colours; the stitch may lean the other way.`
      : `For a clean face unweave ${sayCount(unweave, 'pick')}, turning every tablet back as the draft went forward; then tablet ${seen.tablet} needs no correction.`
  const fault =
    face.woven === null
      ? ''
      : ` Pick ${seen.pick} then shows ${colour(face.woven)} instead of ${colour(face.expected)}.`
  const leave =
    unweave === 0
      ? []
      : [
          `If only the correction is made, the face is right again from ${sayFrom(rightFrom, draft.picks.length)} on.${fault}`,
        ]
  return {
    verdict: `${sayVerdict(verdict, seen)} ${should}`,
    now: sayTurn(correction, seen.tablet),
    then: [seenOnFace, ...leave],
  }
}

function behind(near: string): string {
  return 'DABC'['ABCD'.indexOf(near)]!
}

function sayVerdict(verdict: Recovery['verdict'], { tablet, pick }: SeenOnTop): string {
  if (verdict === 'turnedTheOtherWay') return `Tablet ${tablet} was turned the other way at pick ${pick}.`
  if (verdict === 'turnMissed') return `Tablet ${tablet} was turned too little at pick ${pick}: a turn was missed.`
  return `Tablet ${tablet} was turned too far at pick ${pick}: a turn was doubled.`
}

function sayTurn(correction: number, tablet: number): string {
  const way = correction > 0 ? 'forward' : 'back'
  return Math.abs(correction) === 2
    ? `Turn tablet ${tablet} half a turn ${way} (2 quarter turns) now, before the next pick.`
    : `Turn tablet ${tablet} a quarter turn ${way} now, before the next pick.`
}

function sayFrom(pick: number, picks: number): string {
  return pick <= picks ? `pick ${pick}` : `pick ${((pick - 1) % picks) + 1} of the next repeat`
}
