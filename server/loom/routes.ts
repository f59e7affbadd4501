import express, { type Request, type Response, Router } from 'express'
import { readAsset } from '../asset.ts'
import type { Context } from '../context.ts'
import { findNewestRevision } from '../draft/revision-queries.ts'
import { notFound, readId } from '../errors.ts'
import { readEntered } from '../form.ts'
import { CSP } from '../guard.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { findPiece, type Piece } from '../piece/queries.ts'
import { currentMemberId } from '../rights/viewer.ts'
import { findWoven, standingOf } from './facts.ts'
import { pageAsFile } from './file.ts'
import { readFileOfSteps, readSentSteps, readStepForm } from './form.ts'
import { iconOf, manifestOf } from './install.ts'
import { keepSentSteps, keepTypedStep } from './keep.ts'
import { type CameBack, loomNonePage, loomPage, type ShownLoom } from './pages.ts'
import { findPieceUid, listLatestSteps } from './queries.ts'

/** As many steps of one message take up, and a few more bytes. */
const json = express.json({ limit: '1mb' })
/** The page may be installed: of all pages this one alone has a manifest. */
const LOOM_CSP = `${CSP}; manifest-src 'self'; worker-src 'self'`
const MOST_LISTED = 12

/** The page that lies beside the work. Whose the piece is, the guard has asked. */
export function loomRoutes({ db, page, now, zone }: Pick<Context, 'db' | 'page' | 'now' | 'zone'>): Router {
  const router = Router()
  const pieceAt = (req: Request): Piece => {
    const piece = findPiece(db, readId(req.params.id as string | undefined, 'piece'))
    if (!piece) throw notFound('piece')
    return piece
  }
  const shownOf = (req: Request, piece: Piece): ShownLoom | undefined => {
    const woven = findWoven(db, piece, req.headers.cookie)
    if (!woven) return undefined
    const newest = findNewestRevision(db, woven.revision.draftId)?.number ?? woven.revision.number
    const steps = listLatestSteps(db, piece.id, MOST_LISTED)
    return {
      ...{ woven, zone, steps, newestRevision: newest, notice: noticeOf(req) },
      memberId: currentMemberId() ?? 0,
    }
  }
  const send = (req: Request, res: Response, piece: Piece, cameBack?: CameBack) => {
    const shown = shownOf(req, piece)
    if (!shown) return void res.send(page('loom/none', loomNonePage(piece, piece.draftRevisionId !== undefined)))
    res.set('Content-Security-Policy', LOOM_CSP)
    res.status(cameBack ? 422 : 200).send(page('loom/show', loomPage({ ...shown, cameBack })))
  }

  router.get('/pieces/:id/loom', (req, res) => send(req, res, pieceAt(req)))

  router.post('/pieces/:id/loom', (req, res) => {
    const piece = pieceAt(req)
    const woven = findWoven(db, piece, req.headers.cookie)
    if (!woven) throw notFound('draft of this piece')
    const form = readStepForm(req.body, woven.revision.picks)
    if (!form.ok) return send(req, res, piece, form)
    keepTypedStep(db, piece, form.value, { now: now(), zone })
    seeOther(res, `/pieces/${piece.id}/loom`)
  })

  router.post('/pieces/:id/loom/steps', json, (req, res) => {
    const piece = pieceAt(req)
    const sent = readSentSteps(req.body)
    if (!sent.ok) return void res.status(422).json({ path: sent.path, why: sent.why })
    const at = now()
    const kept = keepSentSteps(db, piece.id, sent.value, at)
    const latest = standingOf(db, piece.id)
    res.json({ kept, now: at.toISOString(), latest, revision: piece.draftRevisionId ?? null })
  })

  router.post('/pieces/:id/loom/file', (req, res) => {
    const piece = pieceAt(req)
    const entered = readEntered(req.body, ['steps'])
    const read = readFileOfSteps(entered.steps)
    const wrong = !read.ok
      ? `${read.path === '' ? '' : `${read.path}: `}${read.why}`
      : read.value.piece !== findPieceUid(db, piece.id)
        ? 'These are steps of another piece.'
        : ''
    if (!read.ok || wrong !== '') return send(req, res, piece, { entered, problems: { steps: wrong } })
    const { device, steps } = read.value
    keepSentSteps(db, piece.id, { device, steps, sentAt: null }, now())
    seeOther(res, `/pieces/${piece.id}/loom`, 'steps-in')
  })

  router.get('/pieces/:id/loom/file.html', (req, res) => {
    const piece = pieceAt(req)
    const shown = shownOf(req, piece)
    if (!shown) throw notFound('draft of this piece')
    res.attachment(`loom-${piece.id}.html`).type('html').send(pageAsFile(page, shown))
  })

  router.get('/pieces/:id/loom/manifest.webmanifest', (req, res) => {
    const base = String(res.locals.base ?? '')
    res.type('application/manifest+json').send(JSON.stringify(manifestOf(pieceAt(req), base)))
  })

  router.get('/pieces/:id/loom/icon.svg', (req, res) => {
    const woven = findWoven(db, pieceAt(req), req.headers.cookie)
    if (!woven) throw notFound('draft of this piece')
    res.type('image/svg+xml').send(iconOf(woven.facts.draft))
  })

  router.get('/loom/worker.js', (_req, res) => {
    // Its scope is a loom page alone; the browser asks whether it may lie above the script's own folder.
    res.set('Service-Worker-Allowed', `${String(res.locals.base ?? '')}/pieces/`)
    res.set('Cache-Control', 'no-cache').type('text/javascript').send(readAsset('loom-worker.js'))
  })

  return router
}
