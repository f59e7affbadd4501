import type { Generated } from 'kysely'

/** Steps that are no work of their piece, so that no sitting is proposed from them. */
export interface StepsLeftOutRow {
  id: Generated<number>
  uid: Generated<string>
  piece_id: number
  /** Whose steps; null of the lone maker. */
  member_id: number | null
  /** Instants of the first and the last of them. */
  steps_from: string
  steps_to: string
  created_at: string
}

/** Limits of a piece (then nobody is named), or of a maker (then no piece is; the lone maker has no id). */
export interface HoursLimitRow {
  id: Generated<number>
  piece_id: number | null
  member_id: number | null
  /** A longer gap between two steps is a break. */
  break_minutes: number
  /** A longer one ends the sitting. */
  end_minutes: number
}

/** The one running clock of a maker. */
export interface TimerRow {
  id: Generated<number>
  piece_id: number
  /** Null while the notebook has one lone maker. */
  member_id: number | null
  stage: string
  /** IANA zone in which it was started. */
  zone: string
  started_at: string
  /** Null while it runs. */
  paused_at: string | null
  /** Of the pauses that are over. */
  paused_seconds: number
  stopped_at: string | null
}
