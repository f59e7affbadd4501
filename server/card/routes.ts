import { type Request, Router } from 'express'
import type { Context } from '../context.ts'
import { findDraft } from '../draft/queries.ts'
import { findRevision } from '../draft/revision-queries.ts'
import { notFound, readId } from '../errors.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { CARD_COOKIE, packChoice, readChoice, rememberedIn } from './choice.ts'
import { cardPage } from './pages.ts'

const YEAR_MS = 365 * 24 * 60 * 60 * 1000

/** Threading card and turning cards to print, in the reader's own convention; a cookie remembers which that is. */
export function cardRoutes({ db, page }: Pick<Context, 'db' | 'page'>): Router {
  const router = Router()
  const shownAt = (req: Request<{ id: string; number: string }>) => {
    const draft = findDraft(db, readId(req.params.id, 'draft'))
    if (!draft) throw notFound('draft')
    const revision = findRevision(db, draft.id, readId(req.params.number, 'revision'))
    if (!revision) throw notFound('revision')
    return { draft, revision }
  }

  router.get('/drafts/:id/revisions/:number/cards', (req: Request<{ id: string; number: string }>, res) => {
    const { draft, revision } = shownAt(req)
    const remembered = rememberedIn(req.headers.cookie)
    const read = readChoice(req.query, { picks: revision.picks, written: draft.written }, remembered)
    const isRemembered = remembered !== undefined && !Object.hasOwn(req.query, 'as')
    const hasProblem = Object.keys(read.problems).length > 0
    const shown = cardPage({ draft, revision, read, isRemembered, notice: noticeOf(req) })
    res.status(hasProblem ? 422 : 200).send(page('card/show', shown))
  })

  router.post('/drafts/:id/revisions/:number/cards', (req: Request<{ id: string; number: string }>, res) => {
    const { draft, revision } = shownAt(req)
    const read = readChoice(req.body, { picks: revision.picks, written: draft.written })
    if (Object.keys(read.problems).length > 0) {
      const shown = cardPage({ draft, revision, read, isRemembered: false, notice: '' })
      return void res.status(422).send(page('card/show', shown))
    }
    const path = `${String(res.locals.base ?? '')}/`
    res.cookie(CARD_COOKIE, packChoice(read.choice), { path, httpOnly: true, sameSite: 'lax', maxAge: YEAR_MS })
    const { from, to } = read.choice
    seeOther(res, `/drafts/${draft.id}/revisions/${revision.number}/cards?from=${from}&to=${to}`, 'cards')
  })

  return router
}
