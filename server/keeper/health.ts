import { Router } from 'express'
import { migrations } from '../../migrations/index.ts'
import type { Context } from '../context.ts'
import type { Db } from '../db/open.ts'
import { LEAST_FREE_SHARE, readSpace } from './space.ts'

/** `GET /healthz` for a watcher: before the question of who asks, and without a word on what is in the notebook. */
export function healthRoutes({ db, dataDir }: Pick<Context, 'db' | 'dataDir'>): Router {
  const router = Router()
  router.get('/healthz', (_req, res) => {
    const isWell = isWritable(db) && readSpace(dataDir).freeShare > LEAST_FREE_SHARE
    res
      .set('Cache-Control', 'no-store')
      .status(isWell ? 200 : 503)
      .type('text/plain')
      .send(isWell ? 'ok' : 'not well')
  })
  return router
}

/** Tries a write and takes it back; a watcher must not wait for the lock as long as a person would. */
function isWritable(db: Db): boolean {
  const wait = db.raw.pragma('busy_timeout', { simple: true }) as number
  try {
    db.raw.pragma('busy_timeout = 20')
    if (db.raw.pragma('user_version', { simple: true }) !== migrations.length) return false
    return db.write(() => {
      db.raw
        .exec(`savepoint health; insert into backup_run (at, file, bytes, ok, message) values ('', '', 0, 0, 'health');
        rollback to health; release health`)
      return true
    })
  } catch {
    return false
  } finally {
    db.raw.pragma(`busy_timeout = ${wait}`)
  }
}
