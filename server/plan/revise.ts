import { withBorderPlan } from '../../shared/draft/border-turning.ts'
import { MOST_PICKS } from '../../shared/draft/draft.ts'
import { sayListed, sayNumbers } from '../../shared/draft/number-words.ts'
import type { PlanEntered } from '../../shared/plan/entry.ts'
import type { PlanFacts } from '../../shared/plan/facts.ts'
import { planSheet } from '../../shared/plan/sheet.ts'
import { countedReversals } from '../../shared/plan/work-out-twist.ts'
import type { Db } from '../db/open.ts'
import { findRevision, insertRevision } from '../draft/revision-queries.ts'
import { HttpError, notFound } from '../errors.ts'
import { setPieceRevision } from '../piece/queries.ts'
import type { ReviseView, ShownPlan } from './pages.ts'
import { moveTicks, type Plan, savePlan } from './queries.ts'

/** The plan that is kept, as far as its reversals can be written into its draft; or why they cannot. */
function readBorders(entered: PlanEntered, facts: PlanFacts) {
  const { wants, figures } = planSheet(entered, facts)
  const { picks, wovenMm } = figures
  const reversals = picks === null ? [] : countedReversals({ ...wants, borders: 'reverse' }, facts, picks)
  if (picks === null || wovenMm === null || reversals.length === 0)
    return {
      ok: false as const,
      why: wants.reversals.some((pick) => facts.writtenReversals.includes(pick))
        ? 'The reversals of the plan stand in the draft already.'
        : 'The plan that is kept has no reversals, or not enough to count its picks.',
    }
  if (picks > MOST_PICKS)
    return {
      ok: false as const,
      why: `The band has ${picks} picks, and a draft holds ${MOST_PICKS}. The reversals stay with the plan.`,
    }
  return { ok: true as const, picks, wovenMm, reversals, isByRepeats: wants.wovenBy === 'repeats' }
}

/** What writing the reversals into the draft does, and what it does to piece and plan; nothing where there is none to write. */
export function reviseView(entered: PlanEntered, facts: PlanFacts): ReviseView | '' {
  const read = readBorders(entered, facts)
  if (!read.ok) return ''
  const { picks, reversals, isByRepeats, wovenMm } = read
  return {
    says: `The plan as it is kept can be written into the draft: a new revision of all ${picks} picks, its borders turning the other way after ${sayListed('pick', reversals)}.`,
    changes: [
      'The piece is woven from the new revision; do this before the first pick, for picks are counted anew',
      'the reversals leave this plan, for they stand in the draft then',
      ...(isByRepeats ? [`its length in repeats becomes the same in cm, ${cmOf(wovenMm)}`] : []),
      'what is ticked as threaded stays',
    ].join('; '),
  }
}

/** As it is typed in the plan. */
const cmOf = (mm: number): string => String(Number((mm / 10).toFixed(6)))

interface Borders {
  readonly compared: ShownPlan['compared']
  readonly kept: Plan
  readonly facts: PlanFacts
  readonly draftId: number
  /** Whether the piece is put on the new revision. */
  readonly moves: boolean
}

/**
 * Writes the band out as a new revision of the draft, its borders reversed as the plan says; and puts the piece on it, with
 * the plan as it is then, where that is wanted. All of it or nothing.
 * @throws HttpError 422 where there is nothing to write, or too much
 */
export function writeBorders(
  db: Db,
  { compared, kept, facts, draftId, moves }: Borders,
  at: string,
): { number: number; isNew: boolean } {
  const read = readBorders(kept.entered, facts)
  if (!read.ok) throw new HttpError(422, read.why)
  const { picks, reversals, isByRepeats, wovenMm } = read
  const { piece } = compared
  const draft = withBorderPlan(facts.draft, picks, reversals)
  const note = `Written out over ${picks} picks for the plan of ${piece.name}: borders turn the other way after ${sayNumbers(reversals, 40)}.`
  return db.write(() => {
    const result = insertRevision(db, draftId, { draft, note }, at)
    if (result.outcome === 'absent') throw notFound('draft of this piece')
    if (moves) {
      const revision = findRevision(db, draftId, result.number)!
      setPieceRevision(db, piece.id, revision.id, at)
      moveTicks(db, piece.id, piece.draftRevisionId!, revision.id)
      const length = isByRepeats ? { wovenBy: 'length', wovenCm: cmOf(wovenMm), repeats: '' } : {}
      const entered = { ...kept.entered, ...length, borders: 'asDrafted', reversals: '' } as PlanEntered
      savePlan(db, { pieceId: piece.id, tablets: draft.tablets, entered }, at)
    }
    return { number: result.number, isNew: result.outcome === 'saved' }
  })
}
