import { planSheet, type WorkedSheet } from '../../shared/plan/sheet.ts'
import { findComparedPiece } from '../compare/queries.ts'
import type { Db } from '../db/open.ts'
import { planFacts } from './facts.ts'
import { findPlan } from './queries.ts'

/** The kept plan of a piece, worked out; undefined where there is none, or no draft that the viewer may see. */
export function workedPlan(db: Db, pieceId: number): WorkedSheet | undefined {
  const kept = findPlan(db, pieceId)
  if (!kept) return undefined
  const compared = findComparedPiece(db, pieceId)
  const { draft } = compared ?? {}
  return compared && draft ? planSheet(kept.entered, planFacts(db, { ...compared, draft })) : undefined
}

/** Repeats that a piece is to have by its kept plan, without the sample; null where the plan does not say. */
export function planRepeats(db: Db, pieceId: number): number | null {
  const worked = workedPlan(db, pieceId)
  if (!worked) return null
  const { wants, figures } = worked
  if (wants.wovenBy === 'repeats' && wants.repeats !== null) return wants.repeats
  const { toWeaveMm, picksPerCm, turning } = figures
  if (toWeaveMm === null || picksPerCm === null || turning.picks === 0) return null
  const repeats = (((toWeaveMm - wants.sampleMm) / 10) * picksPerCm.value) / turning.picks
  return repeats > 0 ? repeats : null
}
