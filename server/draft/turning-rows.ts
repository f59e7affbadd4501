import { writeTurning } from '../../shared/draft/turning.ts'
import type { Turning } from '../../shared/draft/woven.ts'

/** Picks that follow each other with the same turns. */
export interface TurningRow {
  /** `4`, or `4 to 7`. */
  readonly picks: string
  readonly runs: string
}

/** More rows than this make a page that nobody reads; the document has them all. */
const MOST_ROWS = 400

/** The turning as people read it, pick numbers before the runs; `leftOut` counts the picks beyond the last row. */
export function listTurningRows({ tablets, picks, turns }: Turning): { rows: TurningRow[]; leftOut: number } {
  const rows: TurningRow[] = []
  const turnsOf = (pick: number) => turns.subarray(pick * tablets, (pick + 1) * tablets)
  const areAlike = (one: Int8Array, other: Int8Array) => one.every((turn, tablet) => turn === other[tablet])
  let from = 0
  while (from < picks && rows.length < MOST_ROWS) {
    const own = turnsOf(from)
    let to = from
    while (to + 1 < picks && areAlike(own, turnsOf(to + 1))) to++
    const numbers =
      from === to ? String(from + 1) : to === from + 1 ? `${from + 1}, ${to + 1}` : `${from + 1} to ${to + 1}`
    rows.push({ picks: numbers, runs: writeTurning({ tablets, picks: 1, turns: own })[0]! })
    from = to + 1
  }
  return { rows, leftOut: picks - from }
}
