import { Router } from 'express'
import type { Context } from '../context.ts'
import { insertDraft, OWN_FRAME } from '../draft/queries.ts'
import { seeOther } from '../notice.ts'
import { inferOffThread, untilGone } from '../off-thread.ts'
import { findOriginal } from '../original/queries.ts'
import { viewerMayCreate } from '../rights/allowed.ts'
import { readAnswer } from './answer.ts'
import { EXAMPLE } from './example.ts'
import { readInferForm, readKeepForm } from './form.ts'
import { inferPage, openedForm } from './pages.ts'

/** From an observed face to a draft. Nothing is stored until somebody keeps what was found. */
export function inferRoutes({ db, page, now }: Context): Router {
  const router = Router()

  router.get('/drafts/infer', (req, res) => {
    const form = openedForm(req.query.example === undefined ? {} : EXAMPLE)
    res.send(page('infer/edit', inferPage(form)))
  })

  router.post('/drafts/infer', async (req, res) => {
    const form = readInferForm(req.body)
    if (form.fillOnly) return void res.send(page('infer/edit', inferPage(form)))
    if (!form.value) return void res.status(422).send(page('infer/edit', inferPage(form)))
    const { request, title } = form.value
    const mayKeep = viewerMayCreate()
    const worked = readAnswer(req.body, request)
    if (worked) return void res.send(page('infer/edit', inferPage(form, { inference: worked, mayKeep })))
    const result = await untilGone(res, (signal) => inferOffThread(request, title, signal))
    if (result === undefined) return
    if (!result.ok)
      return void res.status(422).send(page('infer/edit', inferPage(form, undefined, result.problems[0]!.message)))
    res.send(page('infer/edit', inferPage(form, { inference: result.inference, mayKeep })))
  })

  router.post('/drafts/infer/keep', (req, res) => {
    const { draft, notes, originalId: wanted } = readKeepForm(req.body)
    const originalId = wanted !== undefined && findOriginal(db, wanted) ? wanted : undefined
    const { id } = insertDraft(db, { draft, notes, originalId, convention: OWN_FRAME }, now().toISOString())
    seeOther(res, `/drafts/${id}`, 'saved')
  })

  return router
}
