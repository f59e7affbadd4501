import { mirrorDraft } from '../../shared/draft/card/mirror-draft.ts'
import { tellingBy } from '../../shared/draft/convention/convert.ts'
import { borderSteps } from '../../shared/draft/border-turning.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import type { BorderWay } from '../../shared/loom/weaving.ts'
import type { LoomFacts, Standing } from '../../shared/loom/view.ts'
import type { PlanWants } from '../../shared/plan/read-plan.ts'
import { planSheet } from '../../shared/plan/sheet.ts'
import { cardOfChoice, readChoice, rememberedIn } from '../card/choice.ts'
import { sayReading } from '../card/pages.ts'
import { findComparedPiece } from '../compare/queries.ts'
import type { Db } from '../db/open.ts'
import { findDraft } from '../draft/queries.ts'
import { findRevisionById, type Revision } from '../draft/revision-queries.ts'
import type { Piece } from '../piece/queries.ts'
import { planFacts } from '../plan/facts.ts'
import { findPlan } from '../plan/queries.ts'
import { findLatestStep, findPieceUid } from './queries.ts'

/** A piece that can be woven by the page: it has a draft, and the viewer may see it. */
export interface Woven {
  readonly piece: Piece
  readonly revision: Revision
  readonly facts: LoomFacts
  /** How the reader's convention counts, in sentences. */
  readonly reading: readonly string[]
}

/** @param cookie of the request: it remembers how the reader reads cards */
export function findWoven(db: Db, piece: Piece, cookie: string | undefined): Woven | undefined {
  const revision = piece.draftRevisionId === undefined ? undefined : findRevisionById(db, piece.draftRevisionId)
  const draft = revision && findDraft(db, revision.draftId)
  if (!revision || !draft) return undefined
  const { choice } = readChoice({}, { picks: revision.picks, written: draft.written }, rememberedIn(cookie))
  const card = cardOfChoice(choice, draft.written)
  return {
    ...{ piece, revision },
    reading: sayReading(card, choice.isMirrored),
    facts: {
      piece: { uid: findPieceUid(db, piece.id), name: piece.name },
      revision: { id: revision.id, number: revision.number, title: draft.title },
      draft: choice.isMirrored ? mirrorDraft(revision.draft) : revision.draft,
      telling: tellingBy(card),
      ...planned(db, piece.id),
      latest: standingOf(db, piece.id),
    },
  }
}

/** Where the work stands, as every device is told it. */
export function standingOf(db: Db, pieceId: number): Standing | null {
  const step = findLatestStep(db, pieceId)
  if (!step) return null
  const { uid, place, at, device, kind } = step
  return { uid, place, at, device, kind }
}

/** What the plan that is kept says of the length, the borders and the warp. */
function planned(db: Db, pieceId: number): Pick<LoomFacts, 'way' | 'reversals' | 'goal' | 'warp'> {
  const nothing = { way: 'drafted', reversals: [], goal: null, warp: null } as const
  const plan = findPlan(db, pieceId)
  const compared = plan && findComparedPiece(db, pieceId)
  if (!plan || !compared?.draft) return nothing
  const facts = planFacts(db, { ...compared, draft: compared.draft })
  const { figures, wants } = planSheet(plan.entered, facts)
  const way = wayOf(wants, compared.draft.draft)
  const goal = figures.picks !== null && figures.picks > 0 ? figures.picks : null
  return { way, reversals: way === 'drafted' ? [] : wants.reversals, goal, warp: figures.twist?.warp ?? null }
}

/** A draft into which the reversals were written turns its borders back by itself: they are not applied twice. */
function wayOf({ borders, reversals }: PlanWants, draft: Revision['draft']): BorderWay {
  if ((borders !== 'reverse' && borders !== 'flip') || reversals.length === 0) return 'drafted'
  return borderSteps(draft, turningOf(draft)).ok ? borders : 'drafted'
}
