import { type Request, Router } from 'express'
import type { Context } from '../context.ts'
import { findDraft } from '../draft/queries.ts'
import { findRevision } from '../draft/revision-queries.ts'
import { notFound, readId } from '../errors.ts'
import { readAsked } from './form.ts'
import { tellPage } from './pages.ts'

/** What a revision tells, in words. */
export function tellRoutes({ db, page }: Pick<Context, 'db' | 'page'>): Router {
  const router = Router()

  router.get('/drafts/:id/revisions/:number/tell', (req: Request<{ id: string; number: string }>, res) => {
    const draft = findDraft(db, readId(req.params.id, 'draft'))
    if (!draft) throw notFound('draft')
    const revision = findRevision(db, draft.id, readId(req.params.number, 'revision'))
    if (!revision) throw notFound('revision')
    const asked = readAsked(req.query, revision.picks)
    res.status(asked.hasProblem ? 422 : 200).send(page('tell/show', tellPage(draft, revision, asked)))
  })

  return router
}
