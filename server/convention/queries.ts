import { fromFrame, toFrame } from '../../shared/draft/convention/convert.ts'
import { cardOf, type Written, writtenText } from '../../shared/draft/convention/written.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import type { Db } from '../db/open.ts'
import type { Convention, NotebookDraft } from '../draft/queries.ts'
import { findNewestRevision, insertRevision } from '../draft/revision-queries.ts'

/**
 * Says how a draft was written down. With `convert` its newest revision is taken as the words of its author: it is
 * brought back by the card that it had, converted by the new one, and kept as a further revision.
 * @param opened the version of the draft that the form was opened on
 * @param at the instant, ISO
 * @returns `stale` when the draft was changed meanwhile, and nothing is kept
 */
export function updateConvention(
  db: Db,
  draft: NotebookDraft,
  { convention, convert, opened }: { convention: Convention; convert: boolean; opened: number },
  at: string,
): 'saved' | 'converted' | 'stale' {
  return db.write(() => {
    const update = db.sql
      .updateTable('draft')
      .set((e) => ({
        convention: writtenText(convention.written),
        convention_note: convention.note,
        updated_at: at,
        version: e('version', '+', 1),
      }))
      .where('id', '=', draft.id)
      .where('version', '=', opened)
    if (db.run(update).changes === 0) return 'stale'
    const newest = convert ? findNewestRevision(db, draft.id) : undefined
    if (!newest) return 'saved'
    const converted = convertedDraft(newest.draft, draft.written, convention.written)
    const note = 'Converted to our own frame by the convention card.'
    return insertRevision(db, draft.id, { draft: converted, note }, at).outcome === 'saved' ? 'converted' : 'saved'
  })
}

/** What the new card makes of a draft that another card, or none, brought into our frame. */
export const convertedDraft = (draft: Draft, before: Written, after: Written): Draft =>
  toFrame(fromFrame(draft, cardOf(before)), cardOf(after))
