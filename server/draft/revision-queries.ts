import type { Selectable } from 'kysely'
import { documentText } from '../../shared/draft/document-text.ts'
import { readDraft } from '../../shared/draft/document.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { isTwistNeutral } from '../../shared/draft/twist.ts'
import { weave } from '../../shared/draft/weave.ts'
import type { Db } from '../db/open.ts'
import type { DraftRevisionRow } from '../db/draft-tables.ts'
import { hiddenName } from '../rights/allowed.ts'
import { readable } from '../rights/readable.ts'

/** One state of a draft, never changed once kept. */
export interface Revision extends RevisionSummary {
  readonly draftId: number
  /** Read once and remembered, for a revision never changes: do not alter it. */
  readonly draft: Draft
  /** The document as it is kept and exported, canonical. */
  readonly document: string
}

export interface RevisionSummary {
  readonly id: number
  /** 1, 2, 3 … within the draft. */
  readonly number: number
  /** What changed, in the maker's words; may be empty. */
  readonly note: string
  readonly tablets: number
  readonly picks: number
  readonly twistNeutral: boolean
  /** An instant, ISO. */
  readonly createdAt: string
}

export function findRevision(db: Db, draftId: number, number: number): Revision | undefined {
  const query = selectRevisions(db).where('draft_revision.draft_id', '=', draftId)
  const row = db.first(query.where('draft_revision.number', '=', number))
  return row && toRevision(db, row)
}

export function findRevisionById(db: Db, id: number): Revision | undefined {
  const row = db.first(selectRevisions(db).where('draft_revision.id', '=', id))
  return row && toRevision(db, row)
}

export function findNewestRevision(db: Db, draftId: number): Revision | undefined {
  const query = selectRevisions(db).where('draft_revision.draft_id', '=', draftId)
  const row = db.first(query.orderBy('draft_revision.number', 'desc').limit(1))
  return row && toRevision(db, row)
}

/** Those of drafts that the viewer may see. */
const selectRevisions = (db: Db) =>
  db.sql
    .selectFrom('draft_revision')
    .innerJoin('draft', 'draft.id', 'draft_revision.draft_id')
    .selectAll('draft_revision')
    .where(readable('draft'))

/** The revisions of a draft without their documents, newest first. */
export function listRevisions(db: Db, draftId: number): RevisionSummary[] {
  const rows = db.all(
    db.sql
      .selectFrom('draft_revision')
      .select(['id', 'number', 'note', 'tablets', 'picks', 'twist_neutral', 'created_at'])
      .where('draft_id', '=', draftId)
      .orderBy('number', 'desc'),
  )
  return rows.map(toSummary)
}

/** A revision that a piece may be woven from; without a number where the viewer may not see its draft. */
export interface RevisionChoice {
  readonly id: number
  readonly draftId: number
  readonly title: string
  readonly number: number | undefined
}

/**
 * Every revision of every draft, for the list a piece chooses from: by title, newest revision first.
 * @param keptId of the one chosen already: it stays a choice when the viewer may not see it, so that saving loses nothing
 */
export function listRevisionChoices(db: Db, keptId?: number): RevisionChoice[] {
  const rows = db.all(
    db.sql
      .selectFrom('draft_revision')
      .innerJoin('draft', 'draft.id', 'draft_revision.draft_id')
      .select(['draft_revision.id', 'draft_revision.draft_id', 'draft.title', 'draft_revision.number'])
      .where(readable('draft'))
      .orderBy('draft.title')
      .orderBy('draft.id')
      .orderBy('draft_revision.number', 'desc'),
  )
  const choices = rows.map(({ draft_id: draftId, ...row }) => ({ ...row, draftId }))
  if (keptId === undefined || choices.some(({ id }) => id === keptId)) return choices
  return [...choices, { id: keptId, draftId: 0, title: hiddenName('draft'), number: undefined }]
}

/**
 * Keeps a changed draft as its newest revision. Its title is the draft's own; a title alone is no new revision.
 * @param at the instant, ISO
 * @returns `same` with the newest revision's number when it says the same already, and nothing is kept
 */
export function insertRevision(
  db: Db,
  draftId: number,
  { draft, note }: { readonly draft: Draft; readonly note: string },
  at: string,
): { outcome: 'absent' } | { outcome: 'same'; number: number } | { outcome: 'saved'; id: number; number: number } {
  return db.write(() => {
    const newest = findNewestRevision(db, draftId)
    if (!newest) return { outcome: 'absent' } as const
    if (documentText({ ...draft, title: newest.draft.title }) === newest.document) {
      return { outcome: 'same', number: newest.number } as const
    }
    const number = newest.number + 1
    const id = insertRevisionRow(db, { draftId, number, draft, note }, at)
    db.run(db.sql.updateTable('draft').set({ updated_at: at }).where('id', '=', draftId))
    return { outcome: 'saved', id, number } as const
  })
}

/** For `insertDraft` and `insertRevision`, inside their transaction. */
export function insertRevisionRow(
  db: Db,
  { draftId, number, draft, note }: { draftId: number; number: number; draft: Draft; note: string },
  at: string,
): number {
  const values = {
    draft_id: draftId,
    number,
    note,
    document: documentText(draft),
    tablets: draft.tablets.length,
    picks: draft.picks.length,
    twist_neutral: isTwistNeutral(weave(draft, turningOf(draft))) ? (1 as const) : (0 as const),
    created_at: at,
  }
  return db.run(db.sql.insertInto('draft_revision').values(values)).id
}

function toSummary(row: Omit<Selectable<DraftRevisionRow>, 'document' | 'draft_id' | 'uid'>): RevisionSummary {
  const { id, number, note, tablets, picks } = row
  return { id, number, note, tablets, picks, twistNeutral: row.twist_neutral === 1, createdAt: row.created_at }
}

function toRevision(db: Db, row: Selectable<DraftRevisionRow>): Revision {
  const draft = toDraft(db, row)
  return { ...toSummary(row), draftId: row.draft_id, draft, document: row.document }
}

/** Ids are never given twice within one database, and revisions never change, so what was read once holds. */
const read = new WeakMap<Db, Map<number, Draft>>()
const MOST_REMEMBERED = 40

function toDraft(db: Db, { id, document }: Pick<DraftRevisionRow, 'document'> & { id: number }): Draft {
  const known = read.get(db) ?? new Map<number, Draft>()
  read.set(db, known)
  const found = known.get(id)
  if (found) return found
  const result = readDraft(JSON.parse(document))
  if (!result.ok) throw new Error(`Draft revision ${id} cannot be read: ${result.problems[0]!.message}`)
  if (known.size >= MOST_REMEMBERED) known.delete(known.keys().next().value as number)
  known.set(id, result.draft)
  return result.draft
}
