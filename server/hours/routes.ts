import { Router, type Response } from 'express'
import type { Context } from '../context.ts'
import { writeTable } from '../draft-export/table.ts'
import { HttpError, notFound, readId } from '../errors.ts'
import { readEntered } from '../form.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { findPiece, type Piece } from '../piece/queries.ts'
import { viewerMayEdit } from '../rights/allowed.ts'
import { insertSitting, listAllSittings, listSittings } from '../sitting/queries.ts'
import { toTime } from '../sitting/form.ts'
import { toLocal } from '../sitting/time.ts'
import { readLimitsForm } from './form.ts'
import { findLimits, saveLimits } from './limit-queries.ts'
import { hoursPage, isSure, type HoursFacts } from './pages.ts'
import { GONE } from './new-from.ts'
import { findProposal, listProposals, toMadeFrom, toSittingForm } from './proposal.ts'
import { deleteLeftOut, insertLeftOut, listLeftOut } from './queries.ts'
import { writeHours } from './table.ts'
import { timerRoutes } from './timer-routes.ts'
import { timerView } from './timer-view.ts'

/** The hours of a piece: what the steps at the loom propose, what is noted, and how gaps are read. */
export function hoursRoutes(context: Context): Router {
  const { db, page, now, zone } = context
  const router = Router()
  router.use(timerRoutes(context))
  const pieceAt = (text: string | undefined): Piece => {
    const piece = findPiece(db, readId(text, 'piece'))
    if (!piece) throw notFound('piece')
    return piece
  }
  const factsOf = (piece: Piece): HoursFacts => {
    const sittings = listSittings(db, piece.id)
    const mayEdit = viewerMayEdit(db, 'piece', piece.id)
    const back = `/pieces/${piece.id}/hours`
    return {
      ...{ piece, sittings, mayEdit, limits: findLimits(db, piece.id) },
      told: listProposals(db, piece, now()),
      leftOut: listLeftOut(db, piece.id).map((one) => ({ ...one, zone })),
      timer: timerView(db, now(), back, mayEdit ? piece.id : undefined, sittings.at(-1)?.stage),
    }
  }
  const csv = (res: Response, name: string, sittings: Parameters<typeof writeHours>[0]) => {
    res.attachment(name)
    res.type('text/csv').send(writeTable(writeHours(sittings)))
  }

  router.get('/pieces/:id/hours', (req, res) => {
    res.send(page('hours/show', hoursPage(factsOf(pieceAt(req.params.id)), noticeOf(req))))
  })

  router.get('/pieces/:id/hours.csv', (req, res) => {
    const piece = pieceAt(req.params.id)
    csv(
      res,
      `hours-${piece.id}.csv`,
      listSittings(db, piece.id).map((sitting) => ({ ...sitting, pieceName: piece.name })),
    )
  })

  router.get('/hours.csv', (_req, res) => csv(res, 'hours.csv', listAllSittings(db)))

  router.post('/pieces/:id/hours/approve', (req, res) => {
    const piece = pieceAt(req.params.id)
    const { key, start } = readEntered(req.body, ['key', 'start'])
    const proposal = findProposal(db, piece, key, now())
    if (!proposal) throw new HttpError(409, GONE)
    // Another beginning is a correction, and is looked at as one: the form asks what it cannot know.
    if (start !== '' && toTime(start) !== toLocal(proposal.startedAt, proposal.zone).time) {
      const asked = new URLSearchParams({ steps: key, start }).toString()
      return seeOther(res, `/pieces/${piece.id}/sittings/new?${asked}`)
    }
    insertSitting(db, piece.id, toSittingForm(proposal), now().toISOString(), toMadeFrom(proposal))
    seeOther(res, `/pieces/${piece.id}/hours#proposals`, 'approved')
  })

  router.post('/pieces/:id/hours/approve-all', (req, res) => {
    const piece = pieceAt(req.params.id)
    const at = now()
    db.write(() => {
      for (const proposal of listProposals(db, piece, at).proposals.filter(isSure))
        insertSitting(db, piece.id, toSittingForm(proposal), at.toISOString(), toMadeFrom(proposal))
    })
    seeOther(res, `/pieces/${piece.id}/hours#sittings`, 'approved')
  })

  router.post('/pieces/:id/hours/leave-out', (req, res) => {
    const piece = pieceAt(req.params.id)
    const proposal = findProposal(db, piece, readEntered(req.body, ['key']).key, now())
    if (!proposal) throw new HttpError(409, GONE)
    insertLeftOut(db, piece.id, { from: proposal.stepsFrom, to: proposal.stepsTo }, now().toISOString())
    seeOther(res, `/pieces/${piece.id}/hours#left-out`, 'left-out')
  })

  router.post('/pieces/:id/hours/take-back', (req, res) => {
    const piece = pieceAt(req.params.id)
    if (!deleteLeftOut(db, piece.id, Number(readEntered(req.body, ['entry']).entry))) throw new HttpError(409, GONE)
    seeOther(res, `/pieces/${piece.id}/hours#proposals`, 'restored-steps')
  })

  router.post('/pieces/:id/hours/limits', (req, res) => {
    const piece = pieceAt(req.params.id)
    const form = readLimitsForm(req.body)
    if (!form.ok) return void res.status(422).send(page('hours/show', hoursPage(factsOf(piece), '', form)))
    saveLimits(db, piece.id, form.value, form.value.forAll)
    seeOther(res, `/pieces/${piece.id}/hours#limits`, 'saved')
  })

  return router
}
