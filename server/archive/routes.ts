import { rmSync } from 'node:fs'
import { join } from 'node:path'
import { pipeline } from 'node:stream'
import { Router, type Request, type Response } from 'express'
import { today, type Context } from '../context.ts'
import { HttpError, notFound, readId } from '../errors.ts'
import type { Log } from '../log.ts'
import { findMember } from '../member/queries.ts'
import { findPiece } from '../piece/queries.ts'
import { asViewer, currentMemberId, type Viewer } from '../rights/viewer.ts'
import { bringIn, choiceKey, type Choice } from './bring-in.ts'
import { gather, type Scope } from './gather.ts'
import { choosePage, donePage, exportPage, importPage } from './pages.ts'
import { planImport, type Plan } from './plan.ts'
import { dropStage, findStage, keepStage, removeStage } from './staging.ts'
import { unpackArchive } from './unpack.ts'
import { readArchiveUpload, type SentArchive } from './upload.ts'
import { writeArchive } from './write.ts'

export interface ArchiveContext extends Context {
  readonly log: Log
  readonly onBroken: (error: unknown) => void
}

export function archiveRoutes(context: ArchiveContext): Router {
  const { db, page, now, dataDir, log, onBroken } = context
  const router = Router()

  const send = (res: Response, scope: Scope, name: string, file: string) => {
    const archive = writeArchive(gather(db, scope), dataDir, { name, today: today(context), at: now() })
    res.set({ 'Content-Type': 'application/zip', 'Content-Disposition': `attachment; filename="${file}.zip"` })
    // Whoever has gone hears no answer; a file that cannot be read breaks the archive off, so that it is seen.
    pipeline(archive, res, (error) => {
      if (error && (error as { code?: string }).code !== 'ERR_STREAM_PREMATURE_CLOSE') onBroken(error)
    })
  }
  const day = () => today(context)

  router.get('/export', (_req, res) => void res.send(page('archive/export', exportPage())))
  router.get('/export/notebook.zip', (_req, res) => {
    send(res, { kind: 'notebook' }, 'A whole notebook', `fellmark-notebook-${day()}`)
  })
  router.get('/export/mine.zip', (_req, res) => {
    send(res, { kind: 'own' }, 'One maker’s own', `fellmark-own-${day()}`)
  })
  router.get('/members/:id/export.zip', (req, res) => {
    const member = findMember(db, readId(req.params.id, 'person'))
    if (!member || member.leftAt !== null) throw notFound('person')
    log({ event: 'member-export', memberId: member.id, by: currentMemberId() })
    asViewer({ kind: 'member', ...member }, () =>
      send(res, { kind: 'own', withoutQuotes: true }, 'One maker’s own', `fellmark-member-${member.id}-${day()}`),
    )
  })
  router.get('/pieces/:id/export.zip', (req, res) => {
    const piece = findPiece(db, readId(req.params.id, 'piece'))
    if (!piece) throw notFound('piece')
    send(res, { kind: 'piece', id: piece.id }, piece.name, `fellmark-piece-${piece.id}-${day()}`)
  })

  router.get('/import', (_req, res) => void res.send(page('archive/import', importPage())))
  router.post('/import', readArchiveUpload(dataDir), async (_req, res) => {
    const { sent, viewer } = res.locals as { sent: SentArchive; viewer: Viewer }
    const { token, folder, path } = sent
    try {
      if (path === undefined) throw new HttpError(422, 'Please choose the archive, a file that ends in .zip.')
      const unpacked = await unpackArchive(path, folder)
      // Streams of the library may have lost who asks.
      const shown = asViewer(viewer, () => {
        keepStage(dataDir, token, unpacked)
        return page('archive/choose', choosePage(db, token, { plan: planImport(db, unpacked.notebook), ...unpacked }))
      })
      rmSync(join(folder, 'archive.zip'))
      res.send(shown)
    } catch (error) {
      dropStage(dataDir, token)
      if (!(error instanceof HttpError) || error.status !== 422) throw error
      res.status(422).send(asViewer(viewer, () => page('archive/import', importPage(error.message))))
    }
  })

  const stageAt = (req: Request<{ token: string }>) => {
    const stage = findStage(dataDir, req.params.token)
    if (!stage) throw notFound('import')
    return stage
  }
  router.get('/import/:token', (req, res) => {
    const stage = stageAt(req)
    const plan = planImport(db, stage.notebook)
    res.send(page('archive/choose', choosePage(db, req.params.token, { plan, ...stage })))
  })
  router.post('/import/:token', (req, res) => {
    const stage = stageAt(req)
    const { token } = req.params
    const plan = planImport(db, stage.notebook)
    const choices = readChoices(req.body, plan)
    if (plan.items.some(({ state, kind, record }) => state === 'conflict' && !choices.has(choiceKey(kind, record.uid))))
      return void res.status(422).send(page('archive/choose', choosePage(db, token, { plan, ...stage }, choices)))
    const done = bringIn(db, stage, choices, dataDir)
    dropStage(dataDir, token)
    res.send(page('archive/done', donePage(done)))
  })
  router.post('/import/:token/leave', (req, res) => {
    stageAt(req)
    removeStage(dataDir, req.params.token)
    res.redirect(303, `${String(res.locals.base ?? '')}/import`)
  })
  return router
}

/** The choice beside each conflict, of those that were offered. */
function readChoices(body: unknown, plan: Plan): Map<string, Choice> {
  const fields = (typeof body === 'object' && body !== null ? body : {}) as Record<string, unknown>
  const choices = new Map<string, Choice>()
  for (const { state, kind, record, mayReplace } of plan.items) {
    const key = choiceKey(kind, record.uid)
    if (state !== 'conflict') continue
    const chosen = Object.hasOwn(fields, key) ? fields[key] : fields.rest
    // What is somebody else's is not replaced, whatever is to be done with the rest.
    const value = chosen === 'theirs' && !mayReplace && !Object.hasOwn(fields, key) ? 'ours' : chosen
    if (value === 'ours' || value === 'both' || (value === 'theirs' && mayReplace)) choices.set(key, value)
  }
  return choices
}
