import type { Generated } from 'kysely'
import type { OwnedColumns } from './tables.ts'

/** What the maker found of one aspect of a piece at one place. */
export interface JudgementRow {
  id: Generated<number>
  uid: Generated<string>
  piece_id: number
  aspect: string
  place: string
  /** What is known of the original, in the maker's words. */
  known: string
  /** What the piece has. */
  used: string
  relation: string
  /** Empty while nobody says why it is otherwise. */
  reason_kind: string
  reason: string
  /** What the difference does to look, size, hand and wear. */
  look: string
  size: string
  hand: string
  wear: string
  label_words: string
  version: Generated<number>
  deleted_at: Generated<string | null>
  created_at: string
  updated_at: string
}

/** What was decided in the study of an original or the making of a piece. */
export interface DecisionRow {
  id: Generated<number>
  uid: Generated<string>
  original_id: number | null
  piece_id: number | null
  on_day: string
  decided_by: string
  question: string
  decided: string
  evidence: string
  considered: string
  version: Generated<number>
  deleted_at: Generated<string | null>
  created_at: string
  updated_at: string
}

/** How much each aspect counts to somebody. */
export interface WeightingRow extends OwnedColumns {
  id: Generated<number>
  name: string
  /** JSON: aspect → whole number from 0 to 100. */
  weights: string
  notes: string
  demo: Generated<0 | 1>
  created_at: string
  updated_at: string
}
