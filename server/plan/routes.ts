import { type Request, type Response, Router } from 'express'
import { planSheet } from '../../shared/plan/sheet.ts'
import { readChoice, rememberedIn } from '../card/choice.ts'
import { findComparedPiece, type ComparedPiece } from '../compare/queries.ts'
import { today, type Context } from '../context.ts'
import { findDraft } from '../draft/queries.ts'
import { findRevisionById } from '../draft/revision-queries.ts'
import { HttpError, notFound, readId } from '../errors.ts'
import { readEntered } from '../form.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { listPieceYarns } from '../piece/queries.ts'
import { viewerMayEdit } from '../rights/allowed.ts'
import { planCardsPage } from './cards-page.ts'
import { planFacts } from './facts.ts'
import { beginPlan, hasPlan, readPlanEntered } from './form.ts'
import { planNonePage, planShowPage, type ShownPlan } from './pages.ts'
import { findPlan, type Plan, listTicks, savePlan, saveTicks } from './queries.ts'
import { reserveNeeds, reserveView } from './reserve.ts'
import { reviseView, writeBorders } from './revise.ts'
import { mergeTicks, threadingPage, type ShownThreading } from './threading-page.ts'

type WithDraft = ShownPlan['compared']
const hasDraft = (compared: ComparedPiece): compared is WithDraft => compared.draft !== undefined

/** What a piece is to be woven with, worked out. Whose the piece is, the guard has asked. */
export function planRoutes(context: Pick<Context, 'db' | 'page' | 'now' | 'zone'>): Router {
  const { db, page, now } = context
  const router = Router()
  const comparedAt = (text: string | undefined): ComparedPiece => {
    const compared = findComparedPiece(db, readId(text, 'piece'))
    if (!compared) throw notFound('piece')
    return compared
  }
  const factsOf = (compared: WithDraft) => planFacts(db, compared)
  const draftIdOf = ({ piece }: WithDraft) => findRevisionById(db, piece.draftRevisionId ?? 0)?.draftId ?? 0
  const rightsOf = (compared: WithDraft) => ({
    mayEdit: viewerMayEdit(db, 'piece', compared.piece.id),
    mayRevise: viewerMayEdit(db, 'draft', draftIdOf(compared)),
  })

  const restOf = (compared: WithDraft, kept: Plan | undefined, notice: string) => {
    const rights = rightsOf(compared)
    const reserve = kept && rights.mayEdit ? reserveView(db, compared.piece.id, kept.entered, factsOf(compared)) : ''
    const revise = kept && rights.mayEdit && rights.mayRevise ? reviseView(kept.entered, factsOf(compared)) : ''
    return { ...rights, notice, reserve, revise } as const
  }

  router.get('/pieces/:id/plan', (req, res) => {
    const compared = comparedAt(req.params.id)
    const { piece } = compared
    if (!hasDraft(compared))
      return void res.send(page('plan/none', planNonePage(compared, viewerMayEdit(db, 'piece', piece.id))))
    showPlan(compared, req, res, req.query)
  })

  // Many colours make an address longer than browsers and servers take: then the same comes as a form.
  router.post('/pieces/:id/plan/work', (req, res) => {
    const compared = comparedAt(req.params.id)
    if (!hasDraft(compared)) throw notFound('draft of this piece')
    showPlan(compared, req, res, req.body)
  })

  function showPlan(compared: WithDraft, req: Request, res: Response, given: unknown): void {
    const { piece } = compared
    const facts = factsOf(compared)
    const kept = findPlan(db, piece.id)
    const isAsked = hasPlan(given)
    const typed = isAsked
      ? readPlanEntered(given, facts.draft)
      : (kept?.entered ?? beginPlan(listPieceYarns(db, piece.id), facts.draft))
    const { take, version } = readEntered(given, ['take', 'version'])
    const entered =
      take === 'proposal' ? { ...typed, borders: 'reverse', reversals: planSheet(typed, facts).sheet.proposed } : typed
    // Working out does not make a form newer: it stays that of the plan on which it was opened.
    const opened = isAsked && /^\d{1,15}$/.test(version) ? version : String(kept?.version ?? '')
    const shown = {
      ...{ compared, facts, entered, version: opened, isAsked },
      ...restOf(compared, kept, noticeOf(req)),
    }
    res.send(page('plan/show', planShowPage(shown)))
  }

  router.post('/pieces/:id/plan', (req, res) => {
    const compared = comparedAt(req.params.id)
    if (!hasDraft(compared)) throw notFound('draft of this piece')
    const facts = factsOf(compared)
    const entered = readPlanEntered(req.body, facts.draft)
    // A lot that is kept with the plan but hidden from this maker, or gone, does not stop the rest from being saved.
    const kept = findPlan(db, compared.piece.id)?.entered
    const isKept = (name: string) => /^(?:warp-[a-z0-9]+|weft)$/.test(name) && kept?.[name] === entered[name]
    if (Object.keys(planSheet(entered, facts).problems).some((name) => !isKept(name))) {
      const version = readEntered(req.body, ['version']).version
      const shown = { ...{ compared, facts, entered, version, isAsked: true }, ...restOf(compared, undefined, '') }
      return void res.status(422).send(page('plan/show', planShowPage(shown)))
    }
    savePlan(db, { pieceId: compared.piece.id, tablets: facts.draft.tablets, entered }, now().toISOString())
    seeOther(res, `/pieces/${compared.piece.id}/plan`, 'saved')
  })

  const written = (compared: WithDraft) => findDraft(db, draftIdOf(compared))?.written ?? { kind: 'unsaid' as const }
  const enteredOf = ({ piece, draft }: WithDraft) =>
    findPlan(db, piece.id)?.entered ?? beginPlan(listPieceYarns(db, piece.id), draft.draft)

  router.get('/pieces/:id/plan/cards', (req, res) => {
    const compared = comparedAt(req.params.id)
    const { piece } = compared
    const mayEdit = viewerMayEdit(db, 'piece', piece.id)
    if (!hasDraft(compared)) return void res.send(page('plan/none', planNonePage(compared, mayEdit)))
    const facts = factsOf(compared)
    const convention = { picks: facts.draft.picks.length, written: written(compared) }
    const read = readChoice(req.query, convention, rememberedIn(req.headers.cookie))
    const shown = { piece, facts, entered: enteredOf(compared), isKept: findPlan(db, piece.id) !== undefined }
    res.send(page('plan/cards', planCardsPage({ ...shown, written: convention.written, read, mayEdit })))
  })

  router.get('/pieces/:id/plan/threading', (req, res) => {
    const compared = comparedAt(req.params.id)
    if (!hasDraft(compared)) return void res.send(page('plan/none', planNonePage(compared, true)))
    res.send(page('plan/threading', threadingPage(threadingOf(compared, req, noticeOf(req)))))
  })

  router.post('/pieces/:id/plan/threading', (req, res) => {
    const compared = comparedAt(req.params.id)
    if (!hasDraft(compared)) throw notFound('draft of this piece')
    const { piece } = compared
    const shown = threadingOf(compared, req, '')
    const { tablets, from } = threadingPage(shown)
    const typed: unknown = (req.body as Record<string, unknown> | undefined)?.tablet
    const ticked = [typed ?? []].flat().map(Number)
    const all = mergeTicks(
      shown.ticks,
      tablets.map(({ value }) => value),
      ticked,
    )
    saveTicks(db, { pieceId: piece.id, revisionId: piece.draftRevisionId!, tablets: all }, now().toISOString())
    seeOther(res, `/pieces/${piece.id}/plan/threading${from > 1 ? `?from=${from}` : ''}`, 'saved')
  })

  function threadingOf(compared: WithDraft, req: Request, notice: string): ShownThreading {
    const { piece, draft } = compared
    const convention = { picks: draft.draft.picks.length, written: written(compared) }
    const { choice } = readChoice({}, convention, rememberedIn(req.headers.cookie))
    const { from } = readEntered(req.method === 'POST' ? req.body : req.query, ['from'])
    return {
      ...{ piece, draft: draft.draft, written: convention.written, choice, notice },
      ticks: piece.draftRevisionId === undefined ? [] : listTicks(db, piece.id, piece.draftRevisionId),
      from: /^[1-9]\d{0,2}$/.test(from) ? Number(from) : 1,
    }
  }

  router.post('/pieces/:id/plan/reserve', (req, res) => {
    const compared = comparedAt(req.params.id)
    const kept = findPlan(db, compared.piece.id)
    if (!hasDraft(compared) || !kept) throw notFound('plan of this piece')
    const { needs } = planSheet(kept.entered, factsOf(compared)).figures
    const isAll = reserveNeeds(db, { pieceId: compared.piece.id, needs, day: today(context) }, now().toISOString())
    seeOther(res, `/pieces/${compared.piece.id}/plan#needs-title`, isAll ? 'reserved' : 'reserved-partly')
  })

  router.post('/pieces/:id/plan/revision', (req, res) => {
    const compared = comparedAt(req.params.id)
    const kept = findPlan(db, compared.piece.id)
    if (!hasDraft(compared) || !kept) throw notFound('plan of this piece')
    if (!rightsOf(compared).mayRevise) throw new HttpError(403, 'The draft is not yours to change.')
    const draftId = draftIdOf(compared)
    const moves = readEntered(req.body, ['move']).move !== ''
    const at = now().toISOString()
    const written = writeBorders(db, { compared, kept, facts: factsOf(compared), draftId, moves }, at)
    if (moves) return seeOther(res, `/pieces/${compared.piece.id}/plan#twist-title`, 'revision-taken')
    seeOther(res, `/drafts/${draftId}/revisions/${written.number}`, written.isNew ? 'revision' : undefined)
  })

  return router
}
