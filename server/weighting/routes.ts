import { Router } from 'express'
import type { Context } from '../context.ts'
import { notFound, readId } from '../errors.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { viewerMayCreate, viewerMayEdit, viewerMayOwn } from '../rights/allowed.ts'
import { sharingView } from '../sharing/view.ts'
import { readWeightingForm, typedWeighting } from './form.ts'
import { BLANK_WEIGHTING, weightingEditPage, weightingListPage, weightingShowPage } from './pages.ts'
import { deleteWeighting, findWeighting, insertWeighting, listWeightings, updateWeighting } from './queries.ts'

/** How much each aspect counts to somebody, kept under a name. */
export function weightingRoutes({ db, page, now }: Pick<Context, 'db' | 'page' | 'now'>): Router {
  const router = Router()
  const weightingAt = (text: string | undefined) => {
    const weighting = findWeighting(db, readId(text, 'weighting'))
    if (!weighting) throw notFound('weighting')
    return weighting
  }

  router.get('/weightings', (req, res) => {
    res.send(page('weighting/list', weightingListPage(listWeightings(db), viewerMayCreate(), noticeOf(req))))
  })

  router.get('/weightings/new', (_req, res) => {
    res.send(page('weighting/edit', weightingEditPage(undefined, BLANK_WEIGHTING)))
  })

  router.post('/weightings', (req, res) => {
    const form = readWeightingForm(req.body)
    if (!form.ok) {
      const shown = weightingEditPage(undefined, form.entered, form.problems)
      return void res.status(422).send(page('weighting/edit', shown))
    }
    seeOther(res, `/weightings/${insertWeighting(db, form.value, now().toISOString())}`, 'saved')
  })

  router.get('/weightings/:id', (req, res) => {
    const weighting = weightingAt(req.params.id)
    const { id } = weighting
    const may = {
      mayEdit: viewerMayEdit(db, 'weighting', id),
      mayOwn: viewerMayOwn(db, 'weighting', id),
      sharing: sharingView(db, 'weighting', id),
    }
    res.send(page('weighting/show', weightingShowPage(weighting, may, noticeOf(req))))
  })

  router.get('/weightings/:id/edit', (req, res) => {
    const weighting = weightingAt(req.params.id)
    res.send(page('weighting/edit', weightingEditPage(weighting, typedWeighting(weighting))))
  })

  router.post('/weightings/:id', (req, res) => {
    const weighting = weightingAt(req.params.id)
    const form = readWeightingForm(req.body)
    if (!form.ok) {
      const shown = weightingEditPage(weighting, form.entered, form.problems)
      return void res.status(422).send(page('weighting/edit', shown))
    }
    updateWeighting(db, weighting.id, form.value, now().toISOString())
    seeOther(res, `/weightings/${weighting.id}`, 'saved')
  })

  router.post('/weightings/:id/delete', (req, res) => {
    deleteWeighting(db, weightingAt(req.params.id).id, now().toISOString())
    seeOther(res, `/weightings?undo=weighting-${req.params.id}`, 'deleted')
  })

  return router
}
