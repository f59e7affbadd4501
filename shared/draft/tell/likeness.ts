import type { Draft, Tablet } from '../draft.ts'
import { BACKSLASH, SLASH, type Turning, type Woven } from '../woven.ts'
import type { FaceRows } from './face-row.ts'

/** How many of so many pairs agree. */
export interface Likeness {
  readonly same: number
  readonly of: number
}

/** How far the left half of a band is its right half in the mirror, each thing by itself. */
export interface WidthMirror {
  /** Pairs of tablets: opposite threading, the same colour in the same hole, the same start. */
  readonly threading: Likeness
  /** Pairs of turns. */
  readonly turning: Likeness
  /** Pairs of cells of the face, until the pattern closes. */
  readonly colours: Likeness
  /** Pairs of stitches: one leans as the other does in the mirror. */
  readonly slants: Likeness
}

/**
 * Holds the left half of a band against its right half. Tablet 1 is paired with the last, 2 with the last but one; a
 * tablet in the very middle has no pair and is left out.
 * @returns counts of pairs; `of` is 0 for a band of one tablet
 * @throws RangeError when the arguments are not for one number of tablets
 * @example a band threaded S Z, both turned alike: threading { same: 1, of: 1 }
 */
export function compareHalves(draft: Draft, turning: Turning, woven: Woven, rows: FaceRows): WidthMirror {
  const tablets = draft.tablets.length
  for (const [name, count] of [
    ['turning', turning.tablets],
    ['woven', woven.tablets],
    ['rows', rows.tablets],
  ] as const) {
    if (count !== tablets) throw new RangeError(`${name}.tablets must be the draft's ${tablets}, got ${count}`)
  }
  const half = tablets >> 1
  let threading = 0
  for (let left = 0; left < half; left++) {
    if (isMirrorOf(draft.tablets[left]!, draft.tablets[tablets - 1 - left]!)) threading++
  }
  return {
    threading: { same: threading, of: half },
    turning: countPairs(turning.turns, tablets, (left, right) => left === right),
    colours: countPairs(rows.colours, tablets, (left, right) => left === right),
    slants: countPairs(woven.slant, tablets, (left, right) => left === mirroredSlant(right)),
  }
}

const mirroredSlant = (slant: number) => (slant === 0 ? 0 : SLASH + BACKSLASH - slant)

/**
 * Whether two tablets are each other's mirror: one threaded S and one Z, the same holes, the same start.
 * @example isMirrorOf(tablet, { ...tablet, threading: 'Z' }) // true for a tablet threaded S
 */
export function isMirrorOf(left: Tablet, right: Tablet): boolean {
  if (left.threading === right.threading || left.start !== right.start) return false
  return left.holes.every((colour, hole) => colour === right.holes[hole])
}

function countPairs(cells: ArrayLike<number>, tablets: number, agree: (left: number, right: number) => boolean) {
  let [same, of] = [0, 0]
  for (let row = 0; row + tablets <= cells.length; row += tablets) {
    for (let left = 0; left < tablets >> 1; left++, of++) {
      if (agree(cells[row + left]!, cells[row + tablets - 1 - left]!)) same++
    }
  }
  return { same, of }
}
