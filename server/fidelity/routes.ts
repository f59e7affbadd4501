import { Router } from 'express'
import { findSpot, type Aspect, type Place, type Spot } from '../../shared/fidelity/aspect.ts'
import { findComparedPiece, type ComparedPiece } from '../compare/queries.ts'
import type { Context } from '../context.ts'
import { decisionsView } from '../decision/view.ts'
import { HttpError, notFound, readId } from '../errors.ts'
import { readEntered } from '../form.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { viewerMayEdit } from '../rights/allowed.ts'
import { currentViewer } from '../rights/viewer.ts'
import { readWeighting } from '../weighting/choice.ts'
import { listLots } from '../yarn/queries.ts'
import { colourEvidence } from './colour.ts'
import { judgementEditPage, prefilled } from './edit-page.ts'
import { spotEvidence, type SpotEvidence } from './evidence.ts'
import { readJudgementForm } from './form.ts'
import { patternEvidence } from './pattern.ts'
import { deleteJudgement, findJudgement, insertJudgement, listJudgements, updateJudgement } from './queries.ts'
import { rankPage, readRanked } from './rank-page.ts'
import { fidelityShowPage, withPattern } from './show-page.ts'

/** How near pieces come to their originals, as their makers judge it. Whose they are, the guard has asked. */
export function fidelityRoutes({ db, page, now }: Pick<Context, 'db' | 'page' | 'now'>): Router {
  const router = Router()
  const comparedAt = (id: number): ComparedPiece => {
    const compared = findComparedPiece(db, id)
    if (!compared) throw notFound('piece')
    return compared
  }
  const judgementAt = (text: string | undefined) => {
    const judgement = findJudgement(db, readId(text, 'judgement'))
    if (!judgement) throw notFound('judgement')
    return judgement
  }
  const patternOf = ({ piece, draft }: ComparedPiece) =>
    patternEvidence(
      db,
      { pieceId: piece.id, originalId: piece.originalId },
      draft && piece.draftRevisionId !== undefined
        ? { draft: draft.draft, revisionId: piece.draftRevisionId }
        : undefined,
    )
  const evidenceAt = (compared: ComparedPiece, spot: Spot): SpotEvidence =>
    withPattern(spot.aspect, spotEvidence(compared, listLots(db), spot), patternOf(compared))

  router.get('/pieces/:id/fidelity', (req, res) => {
    const compared = comparedAt(readId(req.params.id, 'piece'))
    const { piece } = compared
    const lots = listLots(db)
    const shown = {
      ...{ compared, judgements: listJudgements(db, piece.id), weighting: readWeighting(db, req.query) },
      evidenceOf: (aspect: Aspect, place: Place) => spotEvidence(compared, lots, { aspect, place }),
      ...{ pattern: patternOf(compared), colours: colourEvidence(db, compared, lots) },
      decisions: decisionsView(db, { noun: 'piece', id: piece.id }),
      mayEdit: viewerMayEdit(db, 'piece', piece.id),
      mayCompare: currentViewer().kind !== 'anonymous',
      notice: noticeOf(req),
    }
    res.send(page('fidelity/show', fidelityShowPage(shown)))
  })

  router.get('/fidelity', (req, res) => {
    res.send(page('fidelity/rank', rankPage(db, readRanked(db, req.query))))
  })

  router.get('/pieces/:id/judgements/new', (req, res) => {
    const compared = comparedAt(readId(req.params.id, 'piece'))
    const { spot: asked } = readEntered(req.query, ['spot'])
    const spot = findSpot(asked)
    // Its page shows what there is to judge.
    if (!spot) return void seeOther(res, `/pieces/${compared.piece.id}/fidelity`)
    const { aspect, place } = spot
    const known = listJudgements(db, compared.piece.id).find((one) => one.aspect === aspect && one.place === place)
    if (known) return void seeOther(res, `/judgements/${known.id}/edit`)
    const evidence = evidenceAt(compared, spot)
    const entered = prefilled(asked, evidence)
    res.send(page('fidelity/edit', judgementEditPage(compared.piece, undefined, { entered }, evidence)))
  })

  router.post('/pieces/:id/judgements', (req, res) => {
    const compared = comparedAt(readId(req.params.id, 'piece'))
    const form = readJudgementForm(req.body)
    const spot = findSpot(readEntered(req.body, ['spot']).spot)
    if (!spot) throw new HttpError(422, 'The form names no aspect of a band at a place where it is judged.')
    if (!form.ok) {
      const shown = judgementEditPage(compared.piece, undefined, form, evidenceAt(compared, spot))
      return void res.status(422).send(page('fidelity/edit', shown))
    }
    if (insertJudgement(db, compared.piece.id, form.value, now().toISOString()) === undefined) {
      const problems = {
        known: 'Meanwhile this aspect was judged from another window. Its page shows what stands there.',
      }
      const shown = judgementEditPage(
        compared.piece,
        undefined,
        { entered: form.value, problems },
        evidenceAt(compared, spot),
      )
      return void res.status(409).send(page('fidelity/edit', shown))
    }
    seeOther(res, `/pieces/${compared.piece.id}/fidelity#${spot.aspect}`, 'saved')
  })

  router.get('/judgements/:id/edit', (req, res) => {
    const judgement = judgementAt(req.params.id)
    const compared = comparedAt(judgement.pieceId)
    const shown = judgementEditPage(compared.piece, judgement, { entered: judgement }, evidenceAt(compared, judgement))
    res.send(page('fidelity/edit', shown))
  })

  router.post('/judgements/:id', (req, res) => {
    const judgement = judgementAt(req.params.id)
    const form = readJudgementForm({ ...(req.body as object), spot: judgement.spot })
    if (!form.ok) {
      const compared = comparedAt(judgement.pieceId)
      const shown = judgementEditPage(compared.piece, judgement, form, evidenceAt(compared, judgement))
      return void res.status(422).send(page('fidelity/edit', shown))
    }
    updateJudgement(db, judgement.id, form.value, now().toISOString())
    seeOther(res, `/pieces/${judgement.pieceId}/fidelity#${judgement.aspect}`, 'saved')
  })

  router.post('/judgements/:id/delete', (req, res) => {
    const judgement = judgementAt(req.params.id)
    deleteJudgement(db, judgement.id, now().toISOString())
    const undo = `undo=judgement-${judgement.id}`
    seeOther(res, `/pieces/${judgement.pieceId}/fidelity?${undo}#${judgement.aspect}`, 'deleted')
  })

  return router
}
