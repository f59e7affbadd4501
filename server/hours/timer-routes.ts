import { Router } from 'express'
import { STAGES, type Stage } from '../../shared/work/stage.ts'
import type { Context } from '../context.ts'
import { HttpError, readId } from '../errors.ts'
import { readEntered } from '../form.ts'
import { seeOther } from '../notice.ts'
import { deleteTimer, findTimer, pauseTimer, resumeTimer, startTimer, stopTimer } from './timer-queries.ts'

/** The running clock: a maker has one, and nobody sees another's. */
export function timerRoutes({ db, zone, now }: Context): Router {
  const router = Router()

  router.post('/pieces/:id/timer', (req, res) => {
    const id = readId(req.params.id, 'piece')
    const { stage } = readEntered(req.body, ['stage'])
    if (!(STAGES as readonly string[]).includes(stage)) throw new HttpError(400, 'Please choose a stage of the work.')
    if (!startTimer(db, id, stage as Stage, zone, now().toISOString()))
      throw new HttpError(
        409,
        'Your clock runs already, or waits to be kept. Stop it, and keep what it timed or throw it away.',
      )
    seeOther(res, `/pieces/${id}/hours#clock`)
  })

  router.post('/timer/pause', (req, res) => {
    pauseTimer(db, now().toISOString())
    seeOther(res, backOf(req.body))
  })

  router.post('/timer/resume', (req, res) => {
    resumeTimer(db, now().toISOString())
    seeOther(res, backOf(req.body))
  })

  router.post('/timer/stop', (_req, res) => {
    stopTimer(db, now().toISOString())
    const timer = findTimer(db)
    seeOther(res, timer ? `/pieces/${timer.pieceId}/sittings/new?timer=${timer.id}` : '/')
  })

  router.post('/timer/discard', (req, res) => {
    deleteTimer(db)
    seeOther(res, backOf(req.body))
  })

  return router
}

/** Only to one of the pages that show the clock: an address from outside would lead anywhere. */
function backOf(body: unknown): string {
  const { back } = readEntered(body, ['back'])
  return /^\/(pieces\/[1-9]\d{0,14}(\/hours)?)?$/.test(back) ? `${back}#clock` : '/'
}
