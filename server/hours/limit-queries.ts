import { sql } from 'kysely'
import { DEFAULT_LIMITS, type SittingLimits } from '../../shared/work/step-gap.ts'
import type { Db } from '../db/open.ts'

/** The limits that hold for a piece, and whose they are. */
export interface LimitsInForce {
  readonly limits: SittingLimits
  readonly from: 'piece' | 'maker' | 'default'
}

/** Those of the piece; else those of who it belongs to; else the program's own. */
export function findLimits(db: Db, pieceId: number): LimitsInForce {
  const columns = db.sql
    .selectFrom('hours_limit')
    .select(['break_minutes as breakMinutes', 'end_minutes as endMinutes', 'piece_id as pieceId'])
  const own = db.first(columns.where('piece_id', '=', pieceId))
  if (own) return { limits: toLimits(own), from: 'piece' }
  const owner = db.sql.selectFrom('piece').select('owner_id').where('id', '=', pieceId)
  const makers = db.first(columns.where('piece_id', 'is', null).where('member_id', 'is', owner))
  return makers ? { limits: toLimits(makers), from: 'maker' } : { limits: DEFAULT_LIMITS, from: 'default' }
}

const toLimits = ({ breakMinutes, endMinutes }: SittingLimits): SittingLimits => ({ breakMinutes, endMinutes })

/** Limits of the piece alone, or of all pieces of its owner that have none of their own; then this one has none either. */
export function saveLimits(db: Db, pieceId: number, limits: SittingLimits, forAll: boolean): void {
  db.write(() => {
    const set = { break_minutes: limits.breakMinutes, end_minutes: limits.endMinutes }
    const ofPiece = db.sql.deleteFrom('hours_limit').where('piece_id', '=', pieceId)
    db.run(ofPiece)
    if (!forAll) {
      db.run(db.sql.insertInto('hours_limit').values({ piece_id: pieceId, member_id: null, ...set }))
      return
    }
    const owner = db.first(db.sql.selectFrom('piece').select('owner_id').where('id', '=', pieceId))?.owner_id ?? null
    db.run(
      db.sql
        .deleteFrom('hours_limit')
        .where('piece_id', 'is', null)
        .where('member_id', 'is', sql<number | null>`${owner}`),
    )
    db.run(db.sql.insertInto('hours_limit').values({ piece_id: null, member_id: owner, ...set }))
  })
}
