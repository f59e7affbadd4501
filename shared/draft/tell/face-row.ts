import type { Draft } from '../draft.ts'
import { closesAfter } from '../twist.ts'
import type { Woven } from '../woven.ts'

/** The colours of the face until the pattern closes. */
export interface FaceRows {
  readonly tablets: number
  /** Picks of all the repeats that it takes to close. */
  readonly picks: number
  /** 1, 2 or 4. */
  readonly repeats: number
  /** Row-major: 0 where nothing shows or the hole is empty, else one more than the place of the key in `keys`. */
  readonly colours: Uint8Array
  readonly keys: readonly string[]
}

/**
 * The face of a band that is woven again and again, for as many repeats as it takes to close. A tablet that idles at the
 * beginning of a repeat shows what it showed at the end of the one before.
 * @throws RangeError when `woven` is for another number of tablets, or the draft has more than 255 colours in its holes
 * @example a repeat of 4 picks that closes after 2: picks 8
 */
export function listFaceRows(draft: Draft, woven: Woven): FaceRows {
  const { tablets, picks, face, net } = woven
  if (draft.tablets.length !== tablets) {
    throw new RangeError(`woven.tablets must be the draft's ${draft.tablets.length}, got ${tablets}`)
  }
  const keys = [...new Set(draft.tablets.flatMap(({ holes }) => holes.filter((key) => key !== null)))]
  if (keys.length > 255) throw new RangeError(`draft must have at most 255 colours in its holes, got ${keys.length}`)
  const codes = draft.tablets.map(({ holes }) => holes.map((key) => (key === null ? 0 : keys.indexOf(key) + 1)))
  const repeats = closesAfter(woven)
  const colours = new Uint8Array(repeats * picks * tablets)
  for (let tablet = 0; tablet < tablets; tablet++) {
    // What shows before the first turn is what the last pick of the repeat before left.
    let shown = picks === 0 ? -1 : face[(picks - 1) * tablets + tablet]!
    if (shown >= 0) shown = (shown - net[tablet]!) & 3
    for (let pick = 0; pick < repeats * picks; pick++) {
      const hole = face[(pick % picks) * tablets + tablet]!
      if (hole >= 0) shown = (hole + Math.floor(pick / picks) * net[tablet]!) & 3
      colours[pick * tablets + tablet] = shown < 0 ? 0 : codes[tablet]![shown]!
    }
  }
  return { tablets, picks: repeats * picks, repeats, colours, keys }
}
