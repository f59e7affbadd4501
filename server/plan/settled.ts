import type { Draft } from '../../shared/draft/draft.ts'
import { type PlanEntered, yarnFields, yarnParts } from '../../shared/plan/entry.ts'
import type { PlanFacts, SettledTaught } from '../../shared/plan/facts.ts'
import type { PlanWants } from '../../shared/plan/read-plan.ts'
import { workOutSettled } from '../../shared/plan/settled.ts'
import type { WarpGeometry } from '../../shared/plan/warp-geometry.ts'
import { workOutYarn } from '../../shared/plan/work-out.ts'
import type { Db } from '../db/open.ts'
import { listPieceYarns, type Piece } from '../piece/queries.ts'
import { listPieceLots } from '../yarn/ledger-queries.ts'
import { findNoted } from './form.ts'

export interface OwnPlan {
  readonly draft: Draft
  readonly entered: PlanEntered
  readonly wants: PlanWants
  readonly geometry: WarpGeometry
  readonly picksPerCm: number | null
  readonly width: number | undefined
}

/** What the grams that a finished piece used taught; nothing where the ledgers name no use for it. */
export function listSettled(
  db: Db,
  piece: Pick<Piece, 'id' | 'name'>,
  { draft, entered, wants, geometry, picksPerCm, width }: OwnPlan,
  shelf: Pick<PlanFacts, 'yarns' | 'densities'>,
): SettledTaught[] {
  const ledgers = listPieceLots(db, piece.id)
  if (!ledgers.some(({ usedMg }) => usedMg > 0)) return []
  const uses = new Map(
    ledgers.map(({ lotId, usedMg, reservedMg }) => [`lot-${lotId}`, { usedG: usedMg / 1000, isOpen: reservedMg > 0 }]),
  )
  const known = (value: number | null | undefined) =>
    value === null || value === undefined ? null : { value, from: 'measured' }
  const nothing = { widthMm: null, tabletsPerCm: null, endsPerCm: null, threadMm: null }
  const facts: PlanFacts = {
    ...{
      draft,
      ...shelf,
      writtenReversals: [],
      takeUpRatios: [],
      settled: [],
      cordRatios: [],
      stops: [],
      original: nothing,
    },
    ...{ picksPerCm: known(picksPerCm), widthMm: known(width) },
  }
  const figures = workOutSettled(wants, workOutYarn(wants, facts), lotsOf(db, piece.id, draft, entered), uses)
  const most = Math.max(0, ...geometry.perTablet)
  const isCounted = figures.percent !== null && figures.percent > 0 && most > 0
  return [{ ...figures, pieceId: piece.id, piece: piece.name, ratio: isCounted ? figures.percent! / most : null }]
}

/** Which lot served which part: as the plan chooses it, else as the yarns noted with the piece say. */
function lotsOf(db: Db, pieceId: number, { tablets }: Draft, entered: PlanEntered): Map<string, string> {
  const noted = listPieceYarns(db, pieceId)
  return new Map(
    yarnParts(tablets).flatMap((part) => {
      const { chosen } = yarnFields(part)
      const typed = entered[chosen] ?? ''
      const lotId = findNoted(noted, part)?.lotId
      const lot = typed.startsWith('lot-') ? typed : typed === '' && lotId !== undefined ? `lot-${lotId}` : undefined
      return lot === undefined ? [] : [[chosen, lot] as const]
    }),
  )
}
