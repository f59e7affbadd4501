import type { ColourKey, Draft } from '../draft/draft.ts'
import { type ObservedFace, sizeOfObserved } from '../draft/infer/observed.ts'
import { turningOf } from '../draft/turning.ts'
import { closesAfter } from '../draft/twist.ts'
import { colourGrid, weave } from '../draft/weave.ts'

/** A cell that was woven otherwise than drafted. Counted from 1, as seen on the cloth. */
export interface WovenError {
  readonly pick: number
  readonly tablet: number
  readonly seen: ColourKey
  readonly drafted: ColourKey
}

export interface FaceComparison {
  /** Cells whose colour is legible; only they are compared. */
  readonly legible: number
  readonly cells: number
  readonly differing: readonly WovenError[]
  /** Picks of the draft before the one that lies beside pick 1 of the cloth, 0 to those of all repeats until it closes. */
  readonly shift: number
}

/** More work than this would hold up everybody else. */
const MOST_STEPS = 300_000_000

/**
 * Sets an observed face beside the draft it was woven from: the draft goes on repeat after repeat, and is moved along
 * until the fewest legible cells differ; of places that fit equally well the first is taken.
 * @returns what differs there
 * @throws RangeError when the face and the draft have different numbers of tablets, or both are too long to be compared
 * @example compareWithDraft(draft, observed).differing.length // 7
 * Source: our own.
 */
export function compareWithDraft(draft: Draft, observed: ObservedFace): FaceComparison {
  const { tablets, picks } = sizeOfObserved(observed)
  if (tablets !== draft.tablets.length) {
    throw new RangeError(`observed.cells must have the draft's ${draft.tablets.length} tablets, not ${tablets}`)
  }
  const places = draft.picks.length * closesAfterOf(draft)
  if (places * picks * tablets > MOST_STEPS) {
    throw new RangeError(`picks of the draft until it closes, times cells, must be at most ${MOST_STEPS}`)
  }
  const keys = [...new Set([...Object.keys(draft.colours), ...observed.cells.flat().filter((key) => key !== null)])]
  const drafted = Uint8Array.from(faceUntilClosed(draft, places).flat(), (key) => keys.indexOf(key ?? draft.weft))
  const seen = Uint8Array.from(observed.cells.flat(), (key) => (key === null ? NOTHING : keys.indexOf(key)))
  let [shift, least] = [0, Infinity]
  for (let tried = 0; tried < places && least > 0; tried++) {
    const differing = countDiffering(seen, drafted, tried * tablets, least)
    if (differing < least) [shift, least] = [tried, differing]
  }
  const differing: WovenError[] = []
  seen.forEach((key, cell) => {
    const other = drafted[(shift * tablets + cell) % drafted.length]!
    if (key === NOTHING || key === other) return
    const [pick, tablet] = [Math.floor(cell / tablets) + 1, (cell % tablets) + 1]
    differing.push({ pick, tablet, seen: keys[key]!, drafted: keys[other]! })
  })
  const legible = seen.reduce((count, key) => count + (key === NOTHING ? 0 : 1), 0)
  return { legible, cells: seen.length, differing, shift }
}

const NOTHING = 255

function closesAfterOf(draft: Draft): number {
  return closesAfter(weave(draft, turningOf(draft)))
}

/** A repeat that does not close shows other threads the next time. */
function faceUntilClosed(draft: Draft, picks: number): (ColourKey | null)[][] {
  const turning = turningOf(draft)
  const turns = new Int8Array(picks * turning.tablets)
  for (let at = 0; at < turns.length; at += turning.turns.length) turns.set(turning.turns, at)
  return colourGrid(draft, weave(draft, { ...turning, picks, turns }), 'face')
}

function countDiffering(seen: Uint8Array, drafted: Uint8Array, from: number, limit: number): number {
  let differing = 0
  for (let cell = 0, at = from; cell < seen.length; cell++, at++) {
    if (at >= drafted.length) at -= drafted.length
    if (seen[cell] !== NOTHING && seen[cell] !== drafted[at] && ++differing >= limit) break
  }
  return differing
}
