import { type Request, type Response, Router } from 'express'
import { boundDraft } from '../../shared/draft/entry/bound.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import type { Context } from '../context.ts'
import { HttpError, notFound, readId } from '../errors.ts'
import { drawPicture, PICTURE_KINDS, pictureVersion } from './picture.ts'
import { findRevision } from './revision-queries.ts'
import { readPictureSize } from './size.ts'

/** What a picture may do when it is opened by itself: nothing. */
const PICTURE_CSP = "default-src 'none'; style-src 'unsafe-inline'; sandbox"

/** What is read out of a revision as a file: its pictures and its document. */
export function draftPictureRoutes({ db }: Pick<Context, 'db'>): Router {
  const router = Router()
  const revisionAt = (req: Request<{ id: string; number: string }>) => {
    const revision = findRevision(db, readId(req.params.id, 'draft'), readId(req.params.number, 'revision'))
    if (!revision) throw notFound('revision')
    return revision
  }

  router.get('/drafts/:id/revisions/:number/document.json', (req, res) => {
    const { draftId, number, document } = revisionAt(req)
    res.attachment(`draft-${draftId}-revision-${number}.json`)
    res.type('application/json').send(document)
  })

  for (const kind of PICTURE_KINDS) {
    router.get(`/drafts/:id/revisions/:number/${kind}.svg`, (req: Request<{ id: string; number: string }>, res) => {
      const revision = revisionAt(req)
      const size = readPictureSize(req.query, revision)
      if (!size.ok) throw new HttpError(400, `The size of this picture cannot be read: ${firstOf(size.problems)}`)
      const lie = req.query.lie === 'across' ? 'across' : 'up'
      setPictureHeaders(res, req.query.v === pictureVersion(revision.document))
      const draft = boundDraft(revision.draft)
      res.send(drawPicture(kind, { draft, turning: turningOf(draft) }, size.value, { lie }))
    })
  }

  return router
}

const firstOf = (problems: Partial<Record<string, string>>) => Object.values(problems)[0] ?? ''

/**
 * A revision never changes, but its address may mean another one tomorrow (the demo and the maker's notebook share a
 * port) and the drawing may get better; so only an address that carries the right version is kept for ever.
 */
function setPictureHeaders(res: Response, isVersioned: boolean): void {
  res.set('Content-Security-Policy', PICTURE_CSP)
  res.set('Cache-Control', isVersioned ? 'private, max-age=31536000, immutable' : 'private, no-cache')
  res.type('image/svg+xml')
}
