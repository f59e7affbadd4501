import { Router } from 'express'
import type { Context } from '../context.ts'
import { compareFaces, faceGrid } from '../../shared/draft/compare-faces.ts'
import { notFound, readId } from '../errors.ts'
import { compareOffThread, untilGone } from '../off-thread.ts'
import { overlayPage } from './pages.ts'
import { findOverlayRevision, listOverlayChoices } from './queries.ts'

/** What is compared while the request waits; more goes to a thread of its own. */
const MOST_LOOKS_HERE = 4_000_000

/** Two revisions, of one draft or of two, laid over each other. */
export function overlayRoutes({ db, page }: Context): Router {
  const router = Router()
  const sideAt = (text: unknown) => {
    if (typeof text !== 'string' || text === '') return undefined
    const side = findOverlayRevision(db, readId(text, 'revision'))
    if (!side) throw notFound('revision')
    return side
  }
  router.get('/drafts/overlay', async (req, res) => {
    const [a, b] = [sideAt(req.query.a), sideAt(req.query.b)]
    const choices = listOverlayChoices(db)
    if (!a || !b) return void res.send(page('overlay/show', overlayPage({ choices, a, b })))
    const grids = { a: faceGrid(a.draft), b: faceGrid(b.draft) }
    const isSmall = grids.a.length * grids.a[0]!.length * (grids.a.length + grids.b.length) < MOST_LOOKS_HERE
    const found = isSmall
      ? compareFaces(grids.a, grids.b)
      : await untilGone(res, (signal) => compareOffThread(grids.a, grids.b, signal))
    if (found) res.send(page('overlay/show', overlayPage({ choices, a, b, found: { ...found, grids } })))
  })
  return router
}
