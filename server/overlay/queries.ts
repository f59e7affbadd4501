import type { Draft } from '../../shared/draft/draft.ts'
import { readDraft } from '../../shared/draft/document.ts'
import type { Db } from '../db/open.ts'
import { readable } from '../rights/readable.ts'

/** A revision that the viewer may read, as one of two that are laid over each other. */
export interface OverlayChoice {
  /** Id of the revision. */
  readonly id: number
  readonly draftId: number
  readonly number: number
  readonly title: string
  /** Whether nobody has said by which convention the draft was typed in. */
  readonly isUnsaid: boolean
}

/** Every revision that the viewer may read, the drafts by title, the newest revision first. */
export function listOverlayChoices(db: Db): OverlayChoice[] {
  const rows = db.all(
    db.sql
      .selectFrom('draft_revision')
      .innerJoin('draft', 'draft.id', 'draft_revision.draft_id')
      .select([
        'draft_revision.id',
        'draft_revision.draft_id',
        'draft_revision.number',
        'draft.title',
        'draft.convention',
      ])
      .where(readable('draft'))
      .orderBy('draft.title')
      .orderBy('draft.id')
      .orderBy('draft_revision.number', 'desc')
      .limit(2000),
  )
  return rows.map((row) => ({
    id: row.id,
    draftId: row.draft_id,
    number: row.number,
    title: row.title,
    isUnsaid: row.convention === '',
  }))
}

/** One of them with its draft; undefined when there is none that the viewer may read. */
export function findOverlayRevision(db: Db, id: number): (OverlayChoice & { readonly draft: Draft }) | undefined {
  const row = db.first(
    db.sql
      .selectFrom('draft_revision')
      .innerJoin('draft', 'draft.id', 'draft_revision.draft_id')
      .select([
        'draft_revision.id',
        'draft_revision.draft_id',
        'draft_revision.number',
        'draft_revision.document',
        'draft.title',
        'draft.convention',
      ])
      .where('draft_revision.id', '=', id)
      .where(readable('draft')),
  )
  if (!row) return undefined
  const read = readDraft(JSON.parse(row.document))
  if (!read.ok) throw new Error(`Revision ${id} cannot be read: ${read.problems[0]!.message}`)
  return {
    id: row.id,
    draftId: row.draft_id,
    number: row.number,
    title: row.title,
    isUnsaid: row.convention === '',
    draft: read.draft,
  }
}
