import { Router } from 'express'
import { chosenStyle } from '../citation/chosen.ts'
import { findPrinted } from '../citation/queries.ts'
import type { Context } from '../context.ts'
import { HttpError, notFound, readId } from '../errors.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { viewerMayEdit, viewerMayOwn } from '../rights/allowed.ts'
import { sharingView } from '../sharing/view.ts'
import { citedIn } from './cited.ts'
import { BLANK_SOURCE, readSourceForm } from './form.ts'
import { sourceEditPage, sourceShowPage } from './pages.ts'
import { deleteSource, findSource, insertSource, updateSource } from './queries.ts'

export function sourceRoutes({ db, page, now, references }: Context): Router {
  const router = Router()
  const sourceAt = (text: string | undefined) => {
    const source = findSource(db, readId(text, 'source'))
    if (!source) throw notFound('source')
    return source
  }

  const mayOf = (id: number) => ({
    mayEdit: viewerMayEdit(db, 'source', id),
    mayOwn: viewerMayOwn(db, 'source', id),
    sharing: sharingView(db, 'source', id),
  })

  router.get('/sources/new', (_req, res) => void res.send(page('source/edit', sourceEditPage(undefined, BLANK_SOURCE))))

  router.post('/sources', async (req, res) => {
    const form = readSourceForm(req.body)
    if (!form.ok)
      return void res.status(422).send(page('source/edit', sourceEditPage(undefined, form.entered, form.problems)))
    const id = insertSource(db, form.value, now().toISOString())
    await references?.bringUpToDate()
    seeOther(res, `/sources/${id}`, 'saved')
  })

  router.get('/sources/:id', (req, res) => {
    const source = sourceAt(req.params.id)
    const style = chosenStyle(db, req)
    const facts = { style, printed: findPrinted(db, source, style), citations: citedIn(db, source, style) }
    res.send(page('source/show', sourceShowPage(source, facts, mayOf(source.id), noticeOf(req))))
  })

  router.get('/sources/:id/edit', (req, res) => {
    const source = sourceAt(req.params.id)
    res.send(page('source/edit', sourceEditPage(source, source)))
  })

  router.post('/sources/:id', async (req, res) => {
    const source = sourceAt(req.params.id)
    const form = readSourceForm(req.body)
    if (!form.ok)
      return void res.status(422).send(page('source/edit', sourceEditPage(source, form.entered, form.problems)))
    updateSource(db, source.id, form.value, now().toISOString())
    await references?.bringUpToDate()
    seeOther(res, `/sources/${source.id}`, 'saved')
  })

  router.post('/sources/:id/delete', (req, res) => {
    const result = deleteSource(db, readId(req.params.id, 'source'), now().toISOString())
    if (result.outcome === 'absent') throw notFound('source')
    if (result.outcome === 'cited') {
      const rests = result.claims === 1 ? '1 claim rests' : `${result.claims} claims rest`
      throw new HttpError(409, `${rests} on this source, so it stays. Withdraw them or give them another source first.`)
    }
    seeOther(res, `/sources?undo=source-${req.params.id}`, 'deleted')
  })

  return router
}
