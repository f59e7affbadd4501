import type { Db } from '../db/open.ts'
import { readable } from '../rights/readable.ts'
import { toClaim, toRow, type Claim, type Subject } from './claim.ts'
import type { ClaimForm } from './form.ts'

/** What other nouns take from here. */
export type { Claim, Subject } from './claim.ts'

export function findClaim(db: Db, id: number): Claim | undefined {
  const row = db.first(selectClaims(db).where('claim.id', '=', id))
  return row && toClaim(row)
}

/** All claims about a subject, withdrawn ones too, in the order in which they were made. */
export function listClaims(db: Db, subject: Subject): Claim[] {
  return db
    .all(selectClaims(db).where(subjectColumn(subject), '=', subjectId(subject)).orderBy('claim.id'))
    .map(toClaim)
}

/**
 * What the maker goes by: the working claim of each feature and part. Where there is none but a blank stands, the newest
 * blank, so that a comparison can say which silence it is.
 */
export function listWorkingClaims(db: Db, subject: Subject): Claim[] {
  const chosen = new Map<string, Claim>()
  for (const claim of listClaims(db, subject).filter((each) => each.withdrawnOn === null)) {
    const key = JSON.stringify([claim.feature, claim.part])
    if (claim.isWorking || (claim.kind === 'blank' && !chosen.get(key)?.isWorking)) chosen.set(key, claim)
  }
  return [...chosen.values()]
}

/**
 * Adds a claim. It is the working one when the form says so, or when it is the first with a value of its feature and part.
 * @param at the instant of writing, ISO in UTC
 * @param correctsId the claim that it corrects; that one stays
 */
export function insertClaim(db: Db, subject: Subject, form: ClaimForm, at: string, correctsId?: number): number {
  return db.write(() => {
    const isFirst = form.kind !== 'blank' && !findWorking(db, subject, form.feature, form.part)
    const { id } = db.run(db.sql.insertInto('claim').values(toRow(subject, form, at, correctsId)))
    if (form.isWorking || isFirst) setWorking(db, id, '')
    return id
  })
}

/** Makes a claim the working one of its feature and part, in place of the one that was. A blank may be it too. */
export function setWorking(db: Db, id: number, reason: string): 'done' | 'absent' | 'withdrawn' {
  return db.write(() => {
    const claim = findClaim(db, id)
    if (!claim) return 'absent'
    if (claim.withdrawnOn !== null) return 'withdrawn'
    db.run(
      db.sql
        .updateTable('claim')
        .set({ working: 0 })
        .where(subjectColumn(claim.subject), '=', subjectId(claim.subject))
        .where('feature', '=', claim.feature)
        .where('part', '=', claim.part)
        .where('working', '=', 1),
    )
    db.run(db.sql.updateTable('claim').set({ working: 1, working_reason: reason }).where('id', '=', id))
    return 'done'
  })
}

/** A claim taken back stays on record with the reason; nothing takes its place as the working one by itself. */
export function withdrawClaim(db: Db, id: number, reason: string, on: string): 'done' | 'absent' | 'withdrawn' {
  return db.write(() => {
    const claim = findClaim(db, id)
    if (!claim) return 'absent'
    if (claim.withdrawnOn !== null) return 'withdrawn'
    const withdrawn = { working: 0, withdrawn_on: on, withdrawn_reason: reason } as const
    db.run(db.sql.updateTable('claim').set(withdrawn).where('id', '=', id))
    return 'done'
  })
}

/** The name of the original or piece that a claim is about. */
export function findSubjectName(db: Db, subject: Subject): string | undefined {
  if ('originalId' in subject)
    return db.first(
      db.sql.selectFrom('original').select('name').where('id', '=', subject.originalId).where(readable('original')),
    )?.name
  return db.first(db.sql.selectFrom('piece').select('name').where('id', '=', subject.pieceId).where(readable('piece')))
    ?.name
}

function findWorking(db: Db, subject: Subject, feature: string, part: string) {
  return db.first(
    db.sql
      .selectFrom('claim')
      .select('id')
      .where(subjectColumn(subject), '=', subjectId(subject))
      .where('feature', '=', feature)
      .where('part', '=', part)
      .where('working', '=', 1),
  )
}

const subjectColumn = (subject: Subject) => ('originalId' in subject ? 'claim.original_id' : 'claim.piece_id')
const subjectId = (subject: Subject) => ('originalId' in subject ? subject.originalId : subject.pieceId)

/** Claims with what is shown of their sources. */
export function selectClaims(db: Db) {
  return db.sql
    .selectFrom('claim')
    .leftJoin('source', (join) => join.onRef('source.id', '=', 'claim.source_id').on(readable('source')))
    .selectAll('claim')
    .select(['source.title as source_title', 'source.people as source_people', 'source.year as source_year'])
}
