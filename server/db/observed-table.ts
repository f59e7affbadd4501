import type { Generated } from 'kysely'

/** What somebody read off a photograph of an original or a piece, cell by cell. */
export interface ObservedRow {
  id: Generated<number>
  uid: Generated<string>
  original_id: number | null
  piece_id: number | null
  /** The photograph it was read off, where that is in the notebook. */
  photo_id: number | null
  /** JSON: colour key → name and hex. */
  colours: string
  /** The observed face in its text form. */
  cells: string
  /** JSON: corners, bend and counts on the photograph; empty where it was typed. */
  marks: string
  observed_on: string | null
  observed_by: string
  note: string
  /** The draft revision it was set beside. */
  draft_revision_id: number | null
  /** Picks of the draft before the one beside pick 1. */
  shift: number | null
  /** JSON: list of cells that differ, each with pick, tablet, seen, drafted; empty where nothing was compared. */
  differing: string
  version: Generated<number>
  deleted_at: Generated<string | null>
  created_at: string
  updated_at: string
}
