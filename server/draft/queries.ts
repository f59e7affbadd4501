import { readWritten, type Written, writtenText } from '../../shared/draft/convention/written.ts'
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
  /** How it was written down before it came here. */
  readonly written: Written
  /** Where its publication says so; may be empty. */
  readonly conventionNote: string
  /** Goes up with each change but those of its revisions. */
  readonly version: number
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
      .select(['draft.convention', 'draft.convention_note', 'draft.version'])
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
    written: toWritten(row.convention),
    conventionNote: row.convention_note,
    version: row.version,
  }
}

/** As it stands in the database, which holds what `writtenText` wrote and nothing else. */
export function toWritten(convention: string): Written {
  const written = readWritten(convention)
  if (!written) throw new Error(`The convention of a draft cannot be read: ${convention.slice(0, 60)}`)
  return written
}

/** How a draft was written down: what its publication says, and where. */
export interface Convention {
  readonly written: Written
  readonly note: string
}

/**
 * Keeps a draft with its first revision. Who makes a draft in our own frame says so by `convention`; left out it is
 * kept as not filled in, and its pages say that.
 * @param at the instant, ISO
 */
export function insertDraft(
  db: Db,
  {
    notes,
    originalId,
    draft,
    note = '',
    convention = UNSAID,
  }: Omit<DraftDetails, 'title'> & {
    readonly draft: Draft
    readonly note?: string
    readonly convention?: Convention
  },
  at: string,
  demo: 0 | 1 = 0,
): { id: number; revisionId: number } {
  return db.write(() => {
    const { id } = db.run(
      db.sql.insertInto('draft').values({
        title: draft.title,
        notes,
        original_id: originalId ?? null,
        convention: writtenText(convention.written),
        convention_note: convention.note,
        demo,
        owner_id: currentMemberId(),
        created_at: at,
        updated_at: at,
      }),
    )
    return { id, revisionId: insertRevisionRow(db, { draftId: id, number: 1, draft, note }, at) }
  })
}

/** Of a draft that was made here, on the bench or out of a face. */
export const OWN_FRAME: Convention = { written: { kind: 'own' }, note: '' }
const UNSAID: Convention = { written: { kind: 'unsaid' }, note: '' }

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
