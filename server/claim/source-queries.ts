import type { Db } from '../db/open.ts'
import { readable } from '../rights/readable.ts'
import { toClaim, type Claim, type JoinedRow } from './claim.ts'
import { selectClaims } from './queries.ts'

/** A claim with the name of what it is about. */
export interface NamedClaim {
  readonly claim: Claim
  readonly subjectName: string
}

/** The claims that name a source, of originals and pieces that the viewer may see: originals first, then by name. */
export function listClaimsFrom(db: Db, sourceId: number): NamedClaim[] {
  const originals = db.all(
    selectClaims(db)
      .innerJoin('original', 'original.id', 'claim.original_id')
      .select('original.name as subject_name')
      .where('claim.source_id', '=', sourceId)
      .where(readable('original'))
      .orderBy('original.name')
      .orderBy('claim.id'),
  )
  const pieces = db.all(
    selectClaims(db)
      .innerJoin('piece', 'piece.id', 'claim.piece_id')
      .select('piece.name as subject_name')
      .where('claim.source_id', '=', sourceId)
      .where(readable('piece'))
      .orderBy('piece.name')
      .orderBy('claim.id'),
  )
  return [...originals, ...pieces].map(toNamed)
}

/**
 * Standing claims about originals that name no source, or one that lies in the bin. Blanks need none; nor does what
 * somebody, named, saw on the object.
 * @param originalId of this original alone
 */
export function listUnsupported(db: Db, originalId?: number): NamedClaim[] {
  let query = selectClaims(db)
    .innerJoin('original', 'original.id', 'claim.original_id')
    .select('original.name as subject_name')
    .where(readable('original'))
    .where('claim.withdrawn_on', 'is', null)
    .where('claim.kind', '<>', 'blank')
    .where((e) =>
      e.or([
        e('claim.source_id', 'is', null),
        e.exists(
          e
            .selectFrom('source as gone')
            .select('gone.id')
            .whereRef('gone.id', '=', 'claim.source_id')
            .where('gone.deleted_at', 'is not', null),
        ),
      ]),
    )
    .where((e) => e.or([e('claim.basis', '<>', 'seen'), e('claim.claimed_by', '=', '')]))
  if (originalId !== undefined) query = query.where('original.id', '=', originalId)
  return db.all(query.orderBy('original.name').orderBy('original.id').orderBy('claim.id')).map(toNamed)
}

const toNamed = ({ subject_name: subjectName, ...row }: JoinedRow & { subject_name: string }): NamedClaim => ({
  claim: toClaim(row),
  subjectName,
})
