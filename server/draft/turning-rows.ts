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
export function listTurningRows(turning: Turning): { rows: TurningRow[]; leftOut: number } {
  const lines = writeTurning(turning)
  const rows: TurningRow[] = []
  let from = 0
  while (from < lines.length && rows.length < MOST_ROWS) {
    let to = from
    while (lines[to + 1] === lines[from]) to++
    const picks =
      from === to ? String(from + 1) : to === from + 1 ? `${from + 1}, ${to + 1}` : `${from + 1} to ${to + 1}`
    rows.push({ picks, runs: lines[from]! })
    from = to + 1
  }
  return { rows, leftOut: lines.length - from }
}
