import { Router } from 'express'
import type { Context } from '../context.ts'
import { listViewerDensities } from '../fibre/queries.ts'
import { reckonPage } from './pages.ts'

/** What a yarn's count says, in every system; nothing is kept, the address says it all. */
export function reckonRoutes({ db, page }: Context): Router {
  const router = Router()
  router.get('/yarns/reckon', (req, res) => {
    const { page: data, status } = reckonPage(req.query, listViewerDensities(db))
    res.status(status).send(page('reckon/show', data))
  })
  return router
}
