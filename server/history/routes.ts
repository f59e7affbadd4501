import { Router } from 'express'
import type { Context } from '../context.ts'
import { notFound, readId } from '../errors.ts'
import { OWNED } from '../rights/readable.ts'
import { historyPage, PAGE_CHANGES } from './pages.ts'
import { findTitle, listChanges } from './queries.ts'

export function historyRoutes({ db, page, zone }: Context): Router {
  const router = Router()
  for (const noun of OWNED) {
    router.get(`/${noun}s/:id/history`, (req, res) => {
      const id = readId(req.params.id, noun)
      const title = findTitle(db, noun, id)
      if (title === undefined) throw notFound(noun)
      const before = typeof req.query.before === 'string' ? readId(req.query.before, 'page') : undefined
      const field = typeof req.query.field === 'string' ? req.query.field : ''
      const changes = listChanges(db, noun, id, before, PAGE_CHANGES)
      res.send(page('history/show', historyPage({ noun, id, title, changes, field, zone })))
    })
  }
  return router
}
