import { type ColourKey, type Draft, HOLES } from './draft.ts'
import { BACKSLASH, NO_SLANT, SLASH, type Turning, type Woven } from './woven.ts'

/**
 * Weaves a draft: which hole shows on face and reverse, how each stitch leans, where every tablet stands.
 * With o the quarter turns of a tablet so far, after the turn, hole o - 1 shows on the face and o + 1 on the reverse
 * after a forward turn; o and o + 2 after a back turn; an idle tablet shows what it showed before. One pass, and no
 * memory beyond the result and one number a tablet.
 * @param draft its tablets' threading and start are used; its picks are not read again
 * @param turning the turns of the same tablets, as `readTurning` gives them
 * @returns typed arrays of picks x tablets
 * @throws RangeError when the turning is for another number of tablets or has the wrong number of turns
 * @example one tablet that starts at A and turns F F F F F B B F F shows A B C D A A D D A
 * @example a tablet that idles at pick 1 shows nothing there: hole -1
 * Source: our own, from the tablet as a square with four corners, its threads held by the weft.
 */
export function weave(draft: Draft, turning: Turning): Woven {
  const { tablets, picks, turns } = turning
  if (draft.tablets.length !== tablets) {
    throw new RangeError(`turning.tablets must be the draft's ${draft.tablets.length}, got ${tablets}`)
  }
  if (turns.length !== tablets * picks) {
    throw new RangeError(`turning.turns must hold ${picks} x ${tablets} turns, got ${turns.length}`)
  }
  const face = new Int8Array(turns.length)
  const reverse = new Int8Array(turns.length)
  const slant = new Uint8Array(turns.length)
  const topNear = new Int8Array(turns.length)
  const net = new Int32Array(tablets)
  const starts = Int32Array.from(draft.tablets, (tablet) => HOLES.indexOf(tablet.start))
  const slantForward = Uint8Array.from(draft.tablets, (tablet) => (tablet.threading === 'S' ? SLASH : BACKSLASH))

  for (let pick = 0, cell = 0; pick < picks; pick++) {
    for (let tablet = 0; tablet < tablets; tablet++, cell++) {
      const turn = turns[cell]!
      const quarters = net[tablet]! + turn
      const stand = starts[tablet]! + quarters
      net[tablet] = quarters
      topNear[cell] = stand & 3
      if (turn > 0) {
        face[cell] = (stand - 1) & 3
        reverse[cell] = (stand + 1) & 3
        slant[cell] = slantForward[tablet]!
      } else if (turn < 0) {
        face[cell] = stand & 3
        reverse[cell] = (stand + 2) & 3
        slant[cell] = SLASH + BACKSLASH - slantForward[tablet]!
      } else {
        face[cell] = pick === 0 ? -1 : face[cell - tablets]!
        reverse[cell] = pick === 0 ? -1 : reverse[cell - tablets]!
        slant[cell] = NO_SLANT
      }
    }
  }
  return { tablets, picks, face, reverse, slant, topNear, net }
}

/**
 * The colours of one side of the cloth.
 * @param side each side in the order of tablets and picks of the draft: the reverse is not turned over left to right
 * @returns picks x tablets, pick 1 first; null where nothing shows yet or the hole that shows is empty
 * @throws RangeError when `woven` is for another number of tablets
 * @example colourGrid(draft, woven, 'face')[0] // ['m', 'w', null]
 */
export function colourGrid(draft: Draft, woven: Woven, side: 'face' | 'reverse'): (ColourKey | null)[][] {
  if (draft.tablets.length !== woven.tablets) {
    throw new RangeError(`woven.tablets must be the draft's ${draft.tablets.length}, got ${woven.tablets}`)
  }
  const holes = woven[side]
  const rows: (ColourKey | null)[][] = []
  for (let pick = 0; pick < woven.picks; pick++) {
    const from = pick * woven.tablets
    rows.push(draft.tablets.map((tablet, at) => tablet.holes[holes[from + at]!] ?? null))
  }
  return rows
}
