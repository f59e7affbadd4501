import type { Generated } from 'kysely'
import type { OwnedColumns } from './tables.ts'

// Rows of drafts, as `tables.ts` has them.

export interface DraftRow extends OwnedColumns {
  id: Generated<number>
  title: string
  notes: string
  original_id: number | null
  convention: Generated<string>
  convention_note: Generated<string>
  demo: Generated<0 | 1>
  created_at: string
  updated_at: string
}

export interface DraftRevisionRow {
  id: Generated<number>
  uid: Generated<string>
  draft_id: number
  /** 1, 2, 3 … within the draft. */
  number: number
  note: string
  /** The draft document as JSON. */
  document: string
  tablets: number
  picks: number
  twist_neutral: 0 | 1
  created_at: string
}

/** What lies on somebody's bench and is no revision yet; nobody else sees it. */
export interface WorkingCopyRow {
  id: Generated<number>
  draft_id: number
  /** Null while the notebook has one lone maker. */
  member_id: number | null
  /** Number of the revision that it began from. */
  base_number: number
  /** Goes up with every saving, so that two windows do not overwrite each other unseen. */
  version: number
  /** The draft document as JSON. */
  document: string
  saved_at: string
}
