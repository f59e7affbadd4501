import { Router } from 'express'
import type { Context } from '../context.ts'
import { findDraft } from '../draft/queries.ts'
import { findRevision } from '../draft/revision-queries.ts'
import { notFound, readId } from '../errors.ts'
import { recoverPage } from './pages.ts'

/** A slip at the loom: asked and answered on one small page, whose address can be kept open on a phone. */
export function recoverRoutes({ db, page }: Context): Router {
  const router = Router()
  router.get('/drafts/:id/revisions/:number/recover', (req, res) => {
    const draft = findDraft(db, readId(req.params.id, 'draft'))
    if (!draft) throw notFound('draft')
    const revision = findRevision(db, draft.id, readId(req.params.number, 'revision'))
    if (!revision) throw notFound('revision')
    const { id, title, written } = draft
    const shown = { id, title, written, number: revision.number, draft: revision.draft }
    const { page: data, status } = recoverPage(shown, req.query)
    res.status(status).send(page('recover/show', data))
  })
  return router
}
