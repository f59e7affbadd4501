import { Router, type Request } from 'express'
import type { Context } from '../context.ts'
import { HttpError, notFound, readId } from '../errors.ts'
import { oneComparisonPage } from './one-page.ts'
import { listPieces } from '../piece/queries.ts'
import { findComparedPiece } from './queries.ts'
import { severalPage, type SeveralRequest } from './several-page.ts'

/** More rows than this in one table are no comparison, and a request that asks for them is a slip. */
const MOST_PIECES = 200

export function compareRoutes({ db, page }: Pick<Context, 'db' | 'page'>): Router {
  const router = Router()

  router.get('/pieces/:id/compare', (req, res) => {
    const compared = findComparedPiece(db, readId(req.params.id, 'piece'))
    if (!compared) throw notFound('piece')
    res.send(page('compare/one', oneComparisonPage(compared)))
  })

  router.get('/compare', (req, res) => {
    const request = readSeveralRequest(req)
    const chosen = request.ids.map((id) => {
      const compared = findComparedPiece(db, id)
      if (!compared) throw notFound('piece')
      return compared
    })
    res.send(page('compare/several', severalPage(listPieces(db), chosen, request)))
  })

  return router
}

function readSeveralRequest({ query }: Request): SeveralRequest {
  const typed = query.piece === undefined ? [] : [query.piece].flat()
  if (typed.length > MOST_PIECES) throw new HttpError(400, `At most ${MOST_PIECES} pieces stand side by side.`)
  const ids = [...new Set(typed.map((id) => readId(typeof id === 'string' ? id : undefined, 'piece')))]
  return { ids, sort: typeof query.sort === 'string' ? query.sort : '', descending: query.order === 'down' }
}
