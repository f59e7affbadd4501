import { Router, type RequestHandler } from 'express'
import { countRows } from '../backup/copy-check.ts'
import { sayFailure } from '../backup/failure.ts'
import { listBackups, type KeptBackup } from '../backup/list.ts'
import { isPaused, restoreBackup, RestoreRefusal } from '../backup/restore.ts'
import { alone, BackupUnderWay, runBackup } from '../backup/run.ts'
import { listRuns } from '../backup/runs.ts'
import { nextDue } from '../backup/schedule.ts'
import { deleteBackup } from '../backup/sweep.ts'
import { checkNotebook } from '../check/check.ts'
import type { Context } from '../context.ts'
import { HttpError, notFound } from '../errors.ts'
import { noticeOf, seeOther } from '../notice.ts'
import type { Log } from '../log.ts'
import { currentMemberId } from '../rights/viewer.ts'
import { checkPage, deletePage, keeperPage, restorePage, type KeeperFacts } from './pages.ts'
import { readSizes, readSpace } from './space.ts'

export interface KeeperContext extends Context {
  readonly log: Log
  readonly onBroken: (error: unknown) => void
}

export function keeperRoutes({ db, page, now, zone, dataDir, isDemo = false, log, onBroken }: KeeperContext): Router {
  const router = Router()
  const facts = (): KeeperFacts => {
    const runs = listRuns(db, 200)
    const backups = listBackups(dataDir)
    return {
      ...{ now: now(), zone, dataDir, isDemo, runs, backups, lastRun: runs[0], lastGoodAt: backups[0]?.at },
      ...{ nextAt: nextDue(runs, now()), space: readSpace(dataDir), sizes: readSizes(dataDir) },
    }
  }
  // The name is looked for among those that are there, and reaches no file otherwise.
  const backupAt = (name: string | undefined): KeptBackup => {
    const backup = listBackups(dataDir).find((each) => each.name === name)
    if (!backup) throw notFound('backup')
    return backup
  }
  const refuse = (error: unknown, what: string): HttpError => {
    if (error instanceof BackupUnderWay) return new HttpError(409, error.message)
    if (error instanceof RestoreRefusal) {
      if (error.cause !== undefined) onBroken(error.cause)
      return new HttpError(409, error.message)
    }
    onBroken(error)
    return new HttpError(503, `${what} ${sayFailure(error)}`)
  }

  router.get('/keeper', (req, res) => void res.send(page('keeper/show', keeperPage(facts(), noticeOf(req)))))

  router.post('/keeper/backup', async (_req, res) => {
    try {
      await runBackup({ db, dataDir, now, reason: 'asked' })
    } catch (error) {
      throw refuse(error, 'No backup was made, and the notebook is as it was.')
    }
    seeOther(res, '/keeper', 'backed-up')
  })

  router.get('/keeper/check', async (_req, res) => {
    res.send(page('keeper/check', checkPage(await checkNotebook(db, dataDir, now()))))
  })

  router.get('/keeper/restore/:name', (req, res) => {
    const backup = backupAt(req.params.name)
    res.send(page('keeper/restore', restorePage(backup, countRows(db.raw), { now: now(), zone, dataDir })))
  })

  router.post('/keeper/restore/:name', async (req, res) => {
    const { name, folder } = backupAt(req.params.name)
    try {
      await restoreBackup({ db, dataDir, now, folder })
    } catch (error) {
      throw refuse(error, 'Nothing was replaced.')
    }
    log({ event: 'backup-restored', backup: name, memberId: currentMemberId() })
    seeOther(res, '/keeper', 'backup-restored')
  })

  router.get('/keeper/delete/:name', (req, res) => {
    const backup = backupAt(req.params.name)
    res.send(page('keeper/delete', deletePage(backup, listBackups(dataDir), { now: now(), zone })))
  })

  router.post('/keeper/delete/:name', async (req, res) => {
    const { name } = backupAt(req.params.name)
    try {
      // A restore may be reading it.
      await alone(dataDir, async () => deleteBackup(dataDir, name))
    } catch (error) {
      throw refuse(error, 'The backup could not be deleted.')
    }
    log({ event: 'backup-deleted', backup: name, memberId: currentMemberId() })
    seeOther(res, '/keeper', 'backup-deleted')
  })

  return router
}

/** While a backup takes the place of the notebook, what is sent would be lost with the old one: it is not taken. */
export function notWhileRestoring({ db }: Pick<Context, 'db'>): RequestHandler {
  return (req, _res, next) => {
    if (req.method !== 'POST' || !isPaused(db)) return next()
    next(new HttpError(503, 'A backup is being restored just now, so nothing is taken. Please try again in a moment.'))
  }
}
