import type { Draft } from '../../shared/draft/draft.ts'
import { measureComplexity } from '../../shared/draft/tell/complexity.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { sumOf } from '../../shared/measure/univariate.ts'
import { fillProgress } from '../../shared/work/fill-progress.ts'
import { fitLearning } from '../../shared/work/learning.ts'
import { toPaceSittings } from '../../shared/work/net-progress.ts'
import type { ForecastStage, OwnPiece } from '../../shared/work/new-piece.ts'
import { hoursByStage } from '../../shared/work/pace.ts'
import { loomPoints, type LoomPoint } from '../../shared/work/remaining.ts'
import type { Db } from '../db/open.ts'
import { findRevisionById } from '../draft/revision-queries.ts'
import { toPiece, type Piece } from '../piece/queries.ts'
import { isOwn, readable } from '../rights/readable.ts'
import { listSittings, type Sitting } from '../sitting/queries.ts'

/** As many finished pieces as are looked at, the latest first: a hand changes. */
const MOST_PIECES = 30

/** Finished pieces of the viewer's own that are woven from a draft, with the hours that they took. */
export function listOwnPieces(db: Db, butId?: number): OwnPiece[] {
  const rows = db.all(
    db.sql
      .selectFrom('piece')
      .selectAll()
      .where('id', '<>', butId ?? 0)
      .where('finished_on', 'is not', null)
      .where('set_aside_on', 'is', null)
      .where('draft_revision_id', 'is not', null)
      .where(readable('piece'))
      .where(isOwn('piece'))
      .orderBy('finished_on', 'desc')
      .orderBy('id', 'desc')
      .limit(MOST_PIECES),
  )
  return rows.map(toPiece).flatMap((piece) => toOwnPiece(db, piece) ?? [])
}

function toOwnPiece(db: Db, piece: Piece): OwnPiece | undefined {
  const revision = findRevisionById(db, piece.draftRevisionId ?? 0)
  if (!revision) return undefined
  const sittings = listSittings(db, piece.id)
  const minutes = minutesByStage(sittings)
  const points = pointsOf(sittings, revision.draft)
  const repeats = sumOf(points.map((point) => point.repeats))
  // Weaving that was timed and not counted says nothing of a pick.
  if (repeats === 0) delete minutes.weave
  const learnt = fitLearning(
    points.map(({ from, repeats: of, minutes: took }) => ({ repeat: from + (of + 1) / 2, minutes: took / of })),
  )
  return { name: piece.name, ...sizeOf(revision.draft, repeats), minutes, exponent: learnt?.exponent ?? null }
}

/** What a band is, as far as hours go by it. */
export function sizeOf(draft: Draft, repeats: number) {
  const { tablets, picks, handfulsPerPick, changesPerPick } = measureComplexity(turningOf(draft))
  // A tablet at least is turned in a pick, also where none changes.
  return { tablets, picksPerRepeat: picks, repeats, load: Math.max(1, handfulsPerPick + changesPerPick) }
}

export const pointsOf = (sittings: readonly Sitting[], draft: Draft): LoomPoint[] =>
  loomPoints(toPaceSittings(fillProgress(sittings, { picks: draft.picks.length })))

/** Minutes worked, unweaving with the weaving. */
export function minutesByStage(sittings: readonly Sitting[]): Partial<Record<ForecastStage, number>> {
  const minutes: Partial<Record<ForecastStage, number>> = {}
  for (const { stage, hours } of hoursByStage(sittings)) {
    const of = stage === 'unweave' ? 'weave' : stage
    minutes[of] = (minutes[of] ?? 0) + hours * 60
  }
  return minutes
}
