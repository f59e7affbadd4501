import { forecastTwist } from '../../shared/draft/twist-forecast.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import type { Turning } from '../../shared/draft/woven.ts'
import type { Feature } from '../../shared/measure/feature.ts'
import { sumOf } from '../../shared/measure/univariate.ts'
import { BLANK_PLAN, type PlanEntered } from '../../shared/plan/entry.ts'
import type { PlanFacts, SettledTaught, Taught } from '../../shared/plan/facts.ts'
import { type PlanWants, readPlan } from '../../shared/plan/read-plan.ts'
import { measuredTakeUp, warpGeometry } from '../../shared/plan/warp-geometry.ts'
import { diameterEstimate } from '../../shared/yarn/diameter-range.ts'
import { listFeatures } from '../claim/feature-queries.ts'
import { listWorkingClaims } from '../claim/queries.ts'
import { evidenceKey, gatherEvidence, knownOf } from '../compare/evidence.ts'
import type { Db } from '../db/open.ts'
import { findRevisionById } from '../draft/revision-queries.ts'
import { listPieceYarns, toPiece, type Piece } from '../piece/queries.ts'
import { toTex } from '../piece/yarn-form.ts'
import { readable } from '../rights/readable.ts'
import { findPlan } from './queries.ts'
import { listSettled, type OwnPlan } from './settled.ts'

/** As many finished pieces as are looked at, the latest first: a hand changes, and so does what it teaches. */
const MOST_PIECES = 30

type Teaching = Pick<PlanFacts, 'takeUpRatios' | 'settled' | 'cordRatios' | 'stops'>
type Shelf = Pick<PlanFacts, 'yarns' | 'densities'>

/**
 * What finished pieces of the same maker taught, of those that the viewer may see: how much more or less they took up than
 * geometry says, by their lengths and by the grams they used; how wide their cords came out, and how much twist they
 * stopped at.
 */
export function listTaught(db: Db, piece: Piece, shelf: Shelf): Teaching {
  const features = new Map(listFeatures(db).map((feature) => [feature.key, feature]))
  const settled: SettledTaught[] = []
  const taught = { takeUpRatios: [] as Taught[], settled, cordRatios: [] as Taught[], stops: [] as Taught[] }
  for (const own of listFinished(db, piece.id)) {
    const plan = readOwnPlan(db, own, features, shelf)
    if (!plan) continue
    const { draft, wants, turning, picksPerCm, geometry, width } = plan
    const add = (list: Taught[], value: number | null) => {
      if (value !== null && value > 0 && Number.isFinite(value)) list.push({ pieceId: own.id, piece: own.name, value })
    }
    const measured = measuredTakeUp(wants)
    if (measured !== null && geometry.perTablet.length > 0)
      add(taught.takeUpRatios, measured / Math.max(...geometry.perTablet))
    settled.push(...listSettled(db, own, plan, shelf))
    const diameterMm = geometry.warpYarn?.diameter.diameterMm ?? notedDiameter(db, own.id, wants)
    if (width !== undefined && diameterMm !== undefined)
      add(taught.cordRatios, width / draft.tablets.length / diameterMm)
    if (wants.stoppedPick !== null && wants.woundMm !== null && picksPerCm !== null) {
      const warp = { bareMm: wants.woundMm, pickMm: 10 / picksPerCm, warpPerWoven: 1 + (measured ?? 0) / 100 }
      const isBorder = draft.tablets.map(({ part }) => part === 'border')
      const forecast = forecastTwist(turning, warp, wants.stoppedPick, 1, { isBorder, reversals: wants.reversals })
      if (forecast.picks === wants.stoppedPick) add(taught.stops, forecast.turnsPerM[wants.stoppedPick]!)
    }
  }
  return taught
}

/** What settling a piece taught, finished or not; nothing where no ledger names a use for it, or it has no draft. */
export function findSettled(db: Db, piece: Piece, shelf: Shelf): SettledTaught | undefined {
  const features = new Map(listFeatures(db).map((feature) => [feature.key, feature]))
  const plan = readOwnPlan(db, piece, features, shelf)
  return plan && listSettled(db, piece, plan, shelf)[0]
}

/** The plan of a piece with what it rests on; undefined where the piece has no draft. */
function readOwnPlan(
  db: Db,
  own: Piece,
  features: ReadonlyMap<string, Feature>,
  shelf: Shelf,
): (OwnPlan & { readonly turning: Turning }) | undefined {
  const revision = own.draftRevisionId === undefined ? undefined : findRevisionById(db, own.draftRevisionId)
  if (!revision) return undefined
  const { draft } = revision
  const evidence = gatherEvidence(listWorkingClaims(db, { pieceId: own.id }), features, draft)
  const known = (feature: string) => knownOf(evidence.get(evidenceKey(feature)))?.value
  const entered = findPlan(db, own.id)?.entered ?? (BLANK_PLAN as PlanEntered)
  const { wants } = readPlan(entered, { draft, ...shelf })
  const turning = turningOf(draft)
  const picksPerCm = wants.picksPerCm ?? known('picksPerCm') ?? null
  const geometry = warpGeometry(wants, draft, turning, picksPerCm)
  return { draft, entered, wants, turning, picksPerCm, geometry, width: known('width') }
}

function listFinished(db: Db, butId: number): Piece[] {
  const owner = db.sql.selectFrom('piece').select('owner_id').where('id', '=', butId)
  const rows = db.all(
    db.sql
      .selectFrom('piece')
      .selectAll()
      .where('id', '<>', butId)
      .where('finished_on', 'is not', null)
      .where('set_aside_on', 'is', null)
      .where('owner_id', 'is', owner)
      .where(readable('piece'))
      .orderBy('finished_on', 'desc')
      .orderBy('id', 'desc')
      .limit(MOST_PIECES),
  )
  return rows.map(toPiece)
}

/** Of a piece without a plan: the mean of the warp yarns noted with it, taken as a plan that nobody has begun takes them. */
function notedDiameter(db: Db, pieceId: number, { density, packing }: PlanWants): number | undefined {
  const texes = listPieceYarns(db, pieceId)
    .filter(({ role }) => /warp|border/i.test(role))
    .flatMap((yarn) => toTex(yarn)?.resultantTex ?? [])
  if (texes.length === 0) return undefined
  const tex = sumOf(texes) / texes.length
  return diameterEstimate(tex, density.gPerCm3, packing, 0).diameterMm
}
