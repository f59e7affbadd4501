import { readBorderPlan } from '../../shared/draft/border-turning.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import type { KnownFigure, PlanFacts } from '../../shared/plan/facts.ts'
import { evidenceKey, type Evidence, type EvidenceOf, knownOf } from '../compare/evidence.ts'
import type { ComparedPiece } from '../compare/queries.ts'
import type { Db } from '../db/open.ts'
import { findRevision, findRevisionById, listRevisions } from '../draft/revision-queries.ts'
import { listDensitiesOf } from '../fibre/queries.ts'
import { listTaught } from './taught.ts'
import { listYarnChoices } from './yarn-choice.ts'

/**
 * All that the plan of a piece is worked out from.
 * @param compared the piece with what is claimed of it and of its original; it has a draft
 */
export function planFacts(db: Db, { piece, draft, sides }: ComparedPiece & { readonly draft: object }): PlanFacts {
  const { original, replica } = sides
  const shelf = shelfOf(db, piece.id)
  const onPiece = (feature: string) => toFigure(replica.get(evidenceKey(feature)), 'the piece')
  const onOriginal = (feature: string) => toFigure(original.get(evidenceKey(feature)), 'the original')
  return {
    draft: draft.draft,
    writtenReversals: findWrittenReversals(db, piece.draftRevisionId, draft.draft),
    ...shelf,
    ...listTaught(db, piece, shelf),
    picksPerCm: onPiece('picksPerCm'),
    widthMm: onPiece('width'),
    original: {
      widthMm: onOriginal('width'),
      tabletsPerCm: onOriginal('tabletsPerCm'),
      endsPerCm: onOriginal('endsPerCm'),
      threadMm: toFigure(firstThread(original), 'the original'),
    },
  }
}

/** The yarns that the plan of a piece may choose, and the densities by which its maker goes. */
export function shelfOf(db: Db, pieceId: number): Pick<PlanFacts, 'yarns' | 'densities'> {
  const owner = db.first(db.sql.selectFrom('piece').select('owner_id').where('id', '=', pieceId))
  const densities = listDensitiesOf(db, owner?.owner_id ?? null)
  return { densities, yarns: listYarnChoices(db, pieceId, densities) }
}

function toFigure(evidence: Evidence | undefined, of: string): KnownFigure | null {
  const known = knownOf(evidence)
  if (!evidence || !known || !(known.value > 0)) return null
  const n = known.n === null ? 'n not said' : `n = ${known.n}`
  if (!evidence.claim) return { value: known.value, from: `worked out from ${evidence.workedOut} of ${of}` }
  const part = evidence.part === '' ? '' : `${evidence.part}, `
  return { value: known.value, from: `the working claim about ${of}, ${part}${n}` }
}

/** The warp thread of the original whose diameter is claimed first; bands have several. */
function firstThread(evidence: EvidenceOf): Evidence | undefined {
  return [...evidence.values()].find((one) => one.feature.key === 'warpDiameter' && one.quantity !== undefined)
}

/** As many of the revisions before it as are looked at for the one that a draft was written out of. */
const MOST_BEFORE = 12

/** Reversals that the revision has because it is an earlier one of its draft, written out by a border plan. */
function findWrittenReversals(db: Db, revisionId: number | undefined, draft: Draft): readonly number[] {
  const revision = revisionId === undefined ? undefined : findRevisionById(db, revisionId)
  if (!revision) return []
  const before = listRevisions(db, revision.draftId)
    .filter(
      ({ number, tablets, picks }) =>
        number < revision.number && tablets === revision.tablets && picks < revision.picks,
    )
    .slice(0, MOST_BEFORE)
  for (const { number } of before) {
    const from = findRevision(db, revision.draftId, number)
    const reversals = from && readBorderPlan(draft, from.draft)
    if (reversals && reversals.length > 0) return reversals
  }
  return []
}
