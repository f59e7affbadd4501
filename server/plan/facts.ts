import type { KnownFigure, PlanFacts } from '../../shared/plan/facts.ts'
import { evidenceKey, type Evidence, type EvidenceOf, knownOf } from '../compare/evidence.ts'
import type { ComparedPiece } from '../compare/queries.ts'
import type { Db } from '../db/open.ts'
import { listDensitiesOf } from '../fibre/queries.ts'
import { listTaught } from './taught.ts'
import { listYarnChoices } from './yarn-choice.ts'

/**
 * All that the plan of a piece is worked out from.
 * @param compared the piece with what is claimed of it and of its original; it has a draft
 */
export function planFacts(db: Db, { piece, draft, sides }: ComparedPiece & { readonly draft: object }): PlanFacts {
  const { original, replica } = sides
  const densities = listDensitiesOf(db, findOwnerId(db, piece.id))
  const yarns = listYarnChoices(db, piece.id, densities)
  const onPiece = (feature: string) => toFigure(replica.get(evidenceKey(feature)), 'the piece')
  const onOriginal = (feature: string) => toFigure(original.get(evidenceKey(feature)), 'the original')
  return {
    draft: draft.draft,
    ...{ yarns, densities },
    ...listTaught(db, piece, { yarns, densities }),
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

const findOwnerId = (db: Db, pieceId: number): number | null =>
  db.first(db.sql.selectFrom('piece').select('owner_id').where('id', '=', pieceId))?.owner_id ?? null

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
