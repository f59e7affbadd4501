import { Router } from 'express'
import { today, type Context } from '../context.ts'
import { notFound, readId } from '../errors.ts'
import { listViewerDensities } from '../fibre/queries.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { viewerMayCreate, viewerMayEdit, viewerMayOwn } from '../rights/allowed.ts'
import { sharingView } from '../sharing/view.ts'
import { colourPage } from './colour-page.ts'
import { BLANK_LOT, lotEditPage } from './lot-edit-page.ts'
import { readLotForm } from './lot-form.ts'
import { deleteYarn, findYarn, insertLot, insertYarn, listLots, listYarns, updateYarn } from './queries.ts'
import { shelfPage } from './shelf-page.ts'
import { BLANK_YARN, yarnEditPage } from './yarn-edit-page.ts'
import { readYarnForm, typedYarn } from './yarn-form.ts'
import { yarnShowPage } from './yarn-page.ts'

export function yarnRoutes(context: Context): Router {
  const { db, page, now } = context
  const router = Router()
  const yarnAt = (text: string | undefined) => {
    const yarn = findYarn(db, readId(text, 'yarn'))
    if (!yarn) throw notFound('yarn')
    return yarn
  }

  router.get('/yarns', (req, res) => {
    const shelf = { yarns: listYarns(db), lots: listLots(db), query: req.query, mayAdd: viewerMayCreate() }
    res.send(page('yarn/shelf', shelfPage(shelf, noticeOf(req))))
  })

  router.get('/yarns/colour', (req, res) => {
    const { shown, status } = colourPage(listLots(db), req.query)
    res.status(status).send(page('yarn/colour', shown))
  })

  router.get('/yarns/new', (_req, res) => void res.send(page('yarn/edit', yarnEditPage(undefined, BLANK_YARN))))

  router.post('/yarns', (req, res) => {
    const form = readYarnForm(req.body)
    if (!form.ok) return void res.status(422).send(page('yarn/edit', yarnEditPage(undefined, form.entered, form)))
    seeOther(res, `/yarns/${insertYarn(db, form.value, now().toISOString())}`, 'saved')
  })

  router.get('/yarns/:id', (req, res) => {
    const yarn = yarnAt(req.params.id)
    const may = {
      mayEdit: viewerMayEdit(db, 'yarn', yarn.id),
      mayOwn: viewerMayOwn(db, 'yarn', yarn.id),
      sharing: sharingView(db, 'yarn', yarn.id),
    }
    res.send(
      page(
        'yarn/show',
        yarnShowPage(yarn, { lots: listLots(db, yarn.id), densities: listViewerDensities(db) }, may, noticeOf(req)),
      ),
    )
  })

  router.get('/yarns/:id/edit', (req, res) => {
    const yarn = yarnAt(req.params.id)
    res.send(page('yarn/edit', yarnEditPage(yarn, typedYarn(yarn))))
  })

  router.post('/yarns/:id', (req, res) => {
    const yarn = yarnAt(req.params.id)
    const form = readYarnForm(req.body)
    if (!form.ok) return void res.status(422).send(page('yarn/edit', yarnEditPage(yarn, form.entered, form)))
    updateYarn(db, yarn.id, form.value, now().toISOString())
    seeOther(res, `/yarns/${yarn.id}`, 'saved')
  })

  router.post('/yarns/:id/delete', (req, res) => {
    const id = readId(req.params.id, 'yarn')
    if (!deleteYarn(db, id, now().toISOString())) throw notFound('yarn')
    seeOther(res, `/yarns?undo=yarn-${id}`, 'deleted')
  })

  router.get('/yarns/:id/lots/new', (req, res) => {
    const yarn = yarnAt(req.params.id)
    res.send(page('yarn/lot-edit', lotEditPage({ yarn, lot: undefined }, BLANK_LOT)))
  })

  router.post('/yarns/:id/lots', (req, res) => {
    const yarn = yarnAt(req.params.id)
    const form = readLotForm(req.body, today(context))
    if (!form.ok) {
      const shown = lotEditPage({ yarn, lot: undefined }, form.entered, form.problems)
      return void res.status(422).send(page('yarn/lot-edit', shown))
    }
    seeOther(res, `/lots/${insertLot(db, yarn.id, form.value, now().toISOString())}`, 'saved')
  })

  return router
}
