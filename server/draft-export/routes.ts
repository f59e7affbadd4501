import { type Request, type Response, Router } from 'express'
import { boundDraft } from '../../shared/draft/entry/bound.ts'
import { MOST_CHECKED_TURNS } from '../../shared/draft/entry/check-line.ts'
import { writeDraftText } from '../../shared/draft/entry/draft-text.ts'
import { writeFaceTable } from '../../shared/draft/table/face-table.ts'
import { writeTurnsTable } from '../../shared/draft/table/turns-table.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import type { Context } from '../context.ts'
import { drawPicture } from '../draft/picture.ts'
import { findDraft } from '../draft/queries.ts'
import { findRevision, type Revision } from '../draft/revision-queries.ts'
import { HttpError, notFound, readId } from '../errors.ts'
import { readExportChoice } from './choice.ts'
import { draftExportPage } from './pages.ts'
import { drawPng } from './png.ts'
import { writeTable } from './table.ts'

type RevisionRequest = Request<{ id: string; number: string }>

/** A revision as files: text, tables and pictures at a chosen resolution, and the page that offers them. */
export function draftExportRoutes({ db, page }: Pick<Context, 'db' | 'page'>): Router {
  const router = Router()
  /** What is written cell by cell: nobody waits while a repeat of millions of turns is. */
  const boundedAt = (req: RevisionRequest) => {
    const revision = revisionAt(req)
    if (revision.tablets * revision.picks > MOST_CHECKED_TURNS) throw new HttpError(400, sayTooLong(revision))
    return revision
  }
  const revisionAt = (req: RevisionRequest) => {
    const revision = findRevision(db, readId(req.params.id, 'draft'), readId(req.params.number, 'revision'))
    if (!revision) throw notFound('revision')
    return revision
  }

  router.get('/drafts/:id/revisions/:number/export', (req: RevisionRequest, res) => {
    const revision = revisionAt(req)
    const draft = findDraft(db, revision.draftId)
    if (!draft) throw notFound('draft')
    const read = readExportChoice(req.query, revision)
    res.status(read.ok ? 200 : 422).send(page('draft-export/show', draftExportPage(draft, revision, read)))
  })

  router.get('/drafts/:id/revisions/:number/draft.txt', (req: RevisionRequest, res) => {
    const revision = boundedAt(req)
    sendFile(res, revision, 'draft.txt', 'text/plain', writeDraftText(revision.draft))
  })

  router.get('/drafts/:id/revisions/:number/turns.csv', (req: RevisionRequest, res) => {
    const revision = boundedAt(req)
    sendFile(res, revision, 'turns.csv', 'text/csv', writeTable(writeTurnsTable(revision.draft)))
  })

  for (const side of ['face', 'reverse'] as const) {
    router.get(`/drafts/:id/revisions/:number/${side}.csv`, (req: RevisionRequest, res) => {
      const revision = boundedAt(req)
      sendFile(res, revision, `${side}.csv`, 'text/csv', writeTable(writeFaceTable(revision.draft, side)))
    })

    router.get(`/drafts/:id/revisions/:number/${side}.png`, async (req: RevisionRequest, res) => {
      const revision = revisionAt(req)
      const read = readExportChoice(req.query, revision)
      if (!read.ok) throw new HttpError(400, `This picture cannot be drawn: ${Object.values(read.problems)[0] ?? ''}`)
      const { size, lie, ...choice } = read.value
      const draft = boundDraft(revision.draft)
      const svg = drawPicture(side, { draft, turning: turningOf(draft) }, size, { lie })
      sendFile(res, revision, `${side}.png`, 'image/png', await drawPng(svg, choice))
    })
  }

  return router
}

const sayTooLong = ({ tablets, picks }: Revision) =>
  `${tablets * picks} turns are more than is written in one go; at most ${MOST_CHECKED_TURNS} are. The draft document has all of them.`

/** A revision never changes, but its address may mean another one tomorrow, so nothing keeps the file. */
function sendFile(
  res: Response,
  { draftId, number }: Revision,
  name: string,
  type: string,
  body: string | Buffer,
): void {
  res.attachment(`draft-${draftId}-revision-${number}-${name}`)
  res.type(type).send(body)
}
