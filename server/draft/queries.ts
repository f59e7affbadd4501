import type { Draft } from '../../shared/draft/draft.ts'
import { toBin } from '../bin/queries.ts'
import { requireUnchanged } from '../conflict/stale.ts'
import type { Db } from '../db/open.ts'
import { readable } from '../rights/readable.ts'
import { currentMemberId } from '../rights/viewer.ts'
import { insertRevisionRow } from './revision-queries.ts'

/** A draft of the notebook. What it weaves stands in its revisions. */
export interface NotebookDraft extends DraftDetails {
  readonly id: number
  /** Empty when the draft belongs to no original, or to one that the viewer may not see. */
  readonly originalName: string
  readonly demo: boolean
}

/** What may be changed at any time, for it changes nothing that is woven. */
export interface DraftDetails {
  readonly title: string
  readonly notes: string
  readonly originalId: number | undefined
}

export function findDraft(db: Db, id: number): NotebookDraft | undefined {
  const row = db.first(
    db.sql
      .selectFrom('draft')
      .leftJoin('original', (join) => join.onRef('original.id', '=', 'draft.original_id').on(readable('original')))
      .select(['draft.id', 'draft.title', 'draft.notes', 'draft.original_id', 'draft.demo', 'original.name'])
      .where('draft.id', '=', id)
      .where(readable('draft')),
  )
  if (!row) return undefined
  return {
    id: row.id,
    title: row.title,
    notes: row.notes,
    originalId: row.original_id ?? undefined,
    originalName: row.name ?? '',
    demo: row.demo === 1,
  }
}

/**
 * Keeps a draft with its first revision.
 * @param at the instant, ISO
 */
export function insertDraft(
  db: Db,
  {
    notes,
    originalId,
    draft,
    note = '',
  }: Omit<DraftDetails, 'title'> & { readonly draft: Draft; readonly note?: string },
  at: string,
  demo: 0 | 1 = 0,
): { id: number; revisionId: number } {
  return db.write(() => {
    const { id } = db.run(
      db.sql.insertInto('draft').values({
        title: draft.title,
        notes,
        original_id: originalId ?? null,
        demo,
        owner_id: currentMemberId(),
        created_at: at,
        updated_at: at,
      }),
    )
    return { id, revisionId: insertRevisionRow(db, { draftId: id, number: 1, draft, note }, at) }
  })
}

/** @returns false when there is no such draft */
export function updateDraft(db: Db, id: number, { title, notes, originalId }: DraftDetails, at: string): boolean {
  requireUnchanged(db, 'draft', id)
  const { changes } = db.run(
    db.sql
      .updateTable('draft')
      .set((e) => ({ title, notes, original_id: originalId ?? null, updated_at: at, version: e('version', '+', 1) }))
      .where('id', '=', id),
  )
  return changes === 1
}

/** Deletes a draft with all its revisions, unless pieces point at one. */
export function deleteDraft(
  db: Db,
  id: number,
  at: string,
): { outcome: 'deleted' | 'absent' } | { outcome: 'used'; pieces: number; seen: readonly PieceOfDraft[] } {
  return db.write(() => {
    const pieces = countPiecesOfDraft(db, id)
    if (pieces > 0) return { outcome: 'used', pieces, seen: listPiecesOfDraft(db, id) } as const
    return { outcome: toBin(db, 'draft', id, at) ? 'deleted' : 'absent' } as const
  })
}

export interface PieceOfDraft {
  readonly id: number
  readonly name: string
  readonly maker: string
  /** The revision that it is woven from. */
  readonly number: number
}

/** All of them, those too that the viewer may not see. */
function countPiecesOfDraft(db: Db, id: number): number {
  const query = db.sql
    .selectFrom('piece')
    .innerJoin('draft_revision', 'draft_revision.id', 'piece.draft_revision_id')
    .select((e) => e.fn.countAll<number>().as('pieces'))
    .where('piece.deleted_at', 'is', null)
  return db.first(query.where('draft_revision.draft_id', '=', id))?.pieces ?? 0
}

/** The pieces woven from any revision of a draft, by name. */
export function listPiecesOfDraft(db: Db, id: number): PieceOfDraft[] {
  return db.all(
    db.sql
      .selectFrom('piece')
      .innerJoin('draft_revision', 'draft_revision.id', 'piece.draft_revision_id')
      .select(['piece.id', 'piece.name', 'piece.maker', 'draft_revision.number'])
      .where('draft_revision.draft_id', '=', id)
      .where(readable('piece'))
      .orderBy('piece.name')
      .orderBy('piece.id'),
  )
}
