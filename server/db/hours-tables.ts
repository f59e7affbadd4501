import type { Generated } from 'kysely'

export interface SittingRow {
  id: Generated<number>
  uid: Generated<string>
  piece_id: number
  maker: string
  stage: string
  /** IANA zone in which the times were typed. */
  zone: string
  /** The local day on which it started. */
  day: string
  started_at: string | null
  ended_at: string | null
  /** From start to end, breaks included. */
  minutes: number
  break_minutes: number
  picks: number | null
  repeats: number | null
  length_mm: number | null
  note: string
  /** `hand`, `steps` or `timer`. */
  origin: Generated<string>
  /** Instants of the first and the last step that it was written from. */
  steps_from: Generated<string | null>
  steps_to: Generated<string | null>
  /** What steps or clock said, before the maker corrected it; no form changes it. */
  said_stage: Generated<string | null>
  said_started_at: Generated<string | null>
  said_ended_at: Generated<string | null>
  said_break_minutes: Generated<number | null>
  said_picks: Generated<number | null>
  version: Generated<number>
  deleted_at: Generated<string | null>
  created_at: string
  updated_at: string
}

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
