import { Router } from 'express'
import { findRepeatLength } from '../compare/queries.ts'
import type { Context } from '../context.ts'
import { findRevisionById } from '../draft/revision-queries.ts'
import { notFound, readId } from '../errors.ts'
import { readEntered } from '../form.ts'
import { findPiece } from '../piece/queries.ts'
import { piecePace } from '../sitting/pace.ts'
import { listSittings } from '../sitting/queries.ts'
import { acrossPage } from './across-page.ts'
import { listPacedPieces } from './across.ts'
import { learningBase, stepFacts } from './facts.ts'
import { pacePage } from './pages.ts'

/** How fast a piece went, and how that goes with what the pieces are. */
export function paceRoutes({ db, page }: Context): Router {
  const router = Router()

  router.get('/pieces/:id/pace', (req, res) => {
    const piece = findPiece(db, readId(req.params.id, 'piece'))
    if (!piece) throw notFound('piece')
    const draft = piece.draftRevisionId === undefined ? undefined : findRevisionById(db, piece.draftRevisionId)?.draft
    const sittings = listSittings(db, piece.id)
    const length = findRepeatLength(db, piece.id, draft)
    const steps = draft && stepFacts(db, piece, draft)
    const base = learningBase(sittings, draft, length, steps?.repeats ?? [])
    res.send(page('pace/show', pacePage(piece, { pace: piecePace(sittings, draft, length), steps, base, sittings })))
  })

  router.get('/pace', (req, res) => {
    const { maker } = readEntered(req.query, ['maker'])
    res.send(page('pace/across', acrossPage(listPacedPieces(db), maker, String(res.locals.base ?? ''))))
  })

  return router
}
