import { Router } from 'express'
import { claimsView } from '../claim/pages.ts'
import type { Context } from '../context.ts'
import { HttpError, notFound, readId } from '../errors.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { decisionsView } from '../decision/view.ts'
import { observedListView } from '../observed/view.ts'
import { photosView } from '../photo/view.ts'
import { viewerMayCreate, viewerMayEdit, viewerMayOwn } from '../rights/allowed.ts'
import { sharingView } from '../sharing/view.ts'
import { readOriginalForm } from './form.ts'
import { BLANK_ORIGINAL, originalEditPage, originalShowPage } from './pages.ts'
import { deleteOriginal, findOriginal, insertOriginal, listDraftsOf, listPiecesOf, updateOriginal } from './queries.ts'

export function originalRoutes({ db, page, now, dataDir }: Context): Router {
  const router = Router()
  const originalAt = (text: string | undefined) => {
    const original = findOriginal(db, readId(text, 'original'))
    if (!original) throw notFound('original')
    return original
  }

  const mayOf = (id: number) => ({
    mayCreate: viewerMayCreate(),
    mayEdit: viewerMayEdit(db, 'original', id),
    mayOwn: viewerMayOwn(db, 'original', id),
    sharing: sharingView(db, 'original', id),
  })

  router.get('/originals/new', (_req, res) => {
    res.send(page('original/edit', originalEditPage(undefined, BLANK_ORIGINAL)))
  })

  router.post('/originals', (req, res) => {
    const form = readOriginalForm(req.body)
    if (!form.ok)
      return void res.status(422).send(page('original/edit', originalEditPage(undefined, form.entered, form.problems)))
    seeOther(res, `/originals/${insertOriginal(db, form.value, now().toISOString())}`, 'saved')
  })

  router.get('/originals/:id', (req, res) => {
    const original = originalAt(req.params.id)
    const claims = claimsView(db, { originalId: original.id })
    const photos = photosView({ db, dataDir }, { noun: 'original', id: original.id })
    const observed = observedListView(db, { noun: 'original', id: original.id })
    const decisions = decisionsView(db, { noun: 'original', id: original.id })
    const [drafts, pieces] = [listDraftsOf(db, original.id), listPiecesOf(db, original.id)]
    res.send(
      page(
        'original/show',
        originalShowPage(
          ...([original, claims, drafts, pieces] as const),
          ...([mayOf(original.id), { photos, observed, decisions }, noticeOf(req)] as const),
        ),
      ),
    )
  })

  router.get('/originals/:id/edit', (req, res) => {
    const original = originalAt(req.params.id)
    res.send(page('original/edit', originalEditPage(original, original)))
  })

  router.post('/originals/:id', (req, res) => {
    const original = originalAt(req.params.id)
    const form = readOriginalForm(req.body)
    if (!form.ok)
      return void res.status(422).send(page('original/edit', originalEditPage(original, form.entered, form.problems)))
    updateOriginal(db, original.id, form.value, now().toISOString())
    seeOther(res, `/originals/${original.id}`, 'saved')
  })

  router.post('/originals/:id/delete', (req, res) => {
    const result = deleteOriginal(db, readId(req.params.id, 'original'), now().toISOString())
    if (result.outcome === 'absent') throw notFound('original')
    if (result.outcome === 'woven') {
      const hang = result.pieces === 1 ? '1 piece is' : `${result.pieces} pieces are`
      throw new HttpError(409, `${hang} woven from this original, so it stays. Give them another original first.`)
    }
    seeOther(res, `/originals?undo=original-${req.params.id}`, 'deleted')
  })

  return router
}
