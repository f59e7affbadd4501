import type { Draft, Tablet } from '../draft.ts'
import type { Turning } from '../woven.ts'

/** Neighbouring tablets of one part that turn alike, and how their twist runs. */
export interface TwistLane {
  /** First and last tablet, counted from 1. */
  readonly from: number
  readonly to: number
  readonly part: Tablet['part']
  /** Quarter turns a pick, and for how many picks. */
  readonly runs: readonly { readonly turn: number; readonly picks: number }[]
  /** Quarter turns after the last pick, and the least and the most on the way; all count from 0 at the start. */
  readonly net: number
  readonly least: number
  readonly most: number
}

/**
 * The lanes of a twist trace from tablet 1 on.
 * @throws RangeError when the turning is for another number of tablets
 * @example six tablets of which 3 and 4 turn back give the lanes 1–2, 3–4, 5–6
 * Source: our own.
 */
export function lanesOf(draft: Draft, turning: Turning): TwistLane[] {
  const { tablets, picks, turns } = turning
  if (draft.tablets.length !== tablets) {
    throw new RangeError(`turning.tablets must be the draft's ${draft.tablets.length}, not ${tablets}`)
  }
  const turnsAlike = (one: number, other: number) => {
    for (let cell = 0; cell < turns.length; cell += tablets) {
      if (turns[cell + one] !== turns[cell + other]) return false
    }
    return true
  }
  const lanes: TwistLane[] = []
  for (let from = 0, to = 0; from < tablets; from = to) {
    const { part } = draft.tablets[from]!
    while (to < tablets && draft.tablets[to]!.part === part && turnsAlike(from, to)) to++
    lanes.push({ from: from + 1, to, part, ...runsOf(turns, tablets, picks, from) })
  }
  return lanes
}

function runsOf(turns: Int8Array, tablets: number, picks: number, at: number) {
  const runs: { turn: number; picks: number }[] = []
  let [net, least, most] = [0, 0, 0]
  for (let pick = 0; pick < picks; pick++) {
    const turn = turns[pick * tablets + at]!
    const last = runs.at(-1)
    if (last?.turn === turn) last.picks++
    else runs.push({ turn, picks: 1 })
    net += turn
    least = Math.min(least, net)
    most = Math.max(most, net)
  }
  return { runs, net, least, most }
}
