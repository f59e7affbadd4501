import type { Draft } from '../../shared/draft/draft.ts'
import type { Db } from '../db/open.ts'
import { findNewestRevision, insertRevision } from '../draft/revision-queries.ts'
import { currentMemberId } from '../rights/viewer.ts'

/** What lies on the viewer's bench and is no revision yet. */
export interface WorkingCopy {
  /** Number of the revision that it began from. */
  readonly base: number
  readonly version: number
  /** A draft document as JSON. */
  readonly document: string
  /** An instant, ISO. */
  readonly savedAt: string
}

/** The viewer's own; nobody finds another one. */
export function findWorkingCopy(db: Db, draftId: number): WorkingCopy | undefined {
  const row = db.first(
    db.sql
      .selectFrom('working_copy')
      .selectAll()
      .where('draft_id', '=', draftId)
      .where('member_id', 'is', currentMemberId()),
  )
  return row && { base: row.base_number, version: row.version, document: row.document, savedAt: row.saved_at }
}

/**
 * Keeps what lies on the viewer's bench.
 * @param version which one the window knew of; 0 for none
 * @param at the instant, ISO
 * @returns `stale` with the version that is kept when another window has kept one meanwhile: nothing is written then
 */
export function saveWorkingCopy(
  db: Db,
  draftId: number,
  { base, version, document }: Omit<WorkingCopy, 'savedAt'>,
  at: string,
): { outcome: 'saved' | 'stale'; version: number } {
  return db.write(() => {
    const kept = findWorkingCopy(db, draftId)
    if ((kept?.version ?? 0) !== version) return { outcome: 'stale', version: kept?.version ?? 0 } as const
    const values = { base_number: base, version: version + 1, document, saved_at: at }
    if (!kept) {
      const whose = { draft_id: draftId, member_id: currentMemberId() }
      db.run(db.sql.insertInto('working_copy').values({ ...whose, ...values }))
    } else {
      const update = db.sql.updateTable('working_copy').set(values).where('draft_id', '=', draftId)
      db.run(update.where('member_id', 'is', currentMemberId()))
    }
    return { outcome: 'saved', version: version + 1 } as const
  })
}

/** Throws the viewer's working copy away, if there is one. */
export function deleteWorkingCopy(db: Db, draftId: number): void {
  const query = db.sql.deleteFrom('working_copy').where('draft_id', '=', draftId)
  db.run(query.where('member_id', 'is', currentMemberId()))
}

/**
 * Makes a revision of what lies on the bench; the working copy has done its work then.
 * @param newest the newest revision that the window knew of
 * @returns `meanwhile` with the newest number when others came, and nothing is written: both are to be kept
 */
export function saveBenchAsRevision(
  db: Db,
  draftId: number,
  { draft, note, newest }: { readonly draft: Draft; readonly note: string; readonly newest: number },
  at: string,
): { outcome: 'absent' } | { outcome: 'same' | 'saved' | 'meanwhile'; number: number } {
  return db.write(() => {
    const kept = findNewestRevision(db, draftId)
    if (!kept) return { outcome: 'absent' } as const
    if (kept.number !== newest) return { outcome: 'meanwhile', number: kept.number } as const
    const result = insertRevision(db, draftId, { draft, note }, at)
    if (result.outcome === 'saved') deleteWorkingCopy(db, draftId)
    return result
  })
}
