import { Router } from 'express'
import type { Context } from '../context.ts'
import { notFound, readId } from '../errors.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { binPage } from './pages.ts'
import { findInBin, fromBin, listBin, purge } from './queries.ts'

export function binRoutes({ db, page, now }: Context): Router {
  const router = Router()
  const entryAt = (kind: string | undefined, id: string | undefined) => {
    const entry = findInBin(db, kind ?? '', readId(id, 'thing in the bin'))
    if (!entry) throw notFound('thing in the bin')
    return entry
  }

  router.get('/bin', (req, res) => void res.send(page('bin/show', binPage(listBin(db), now(), noticeOf(req)))))

  router.post('/bin/:kind/:entry/restore', (req, res) => {
    const { kind, id } = entryAt(req.params.kind, req.params.entry)
    fromBin(db, kind, id)
    const isPart = kind === 'sitting' || kind === 'photo' || kind === 'observed'
    const place = isPart ? findHome(kind, id) : `/${kind}s/${id}`
    seeOther(res, place, 'restored')
  })

  router.post('/bin/:kind/:entry/purge', (req, res) => {
    const { kind, id } = entryAt(req.params.kind, req.params.entry)
    seeOther(res, '/bin', purge(db, kind, id) ? 'purged' : 'needed')
  })

  /** The page of what a sitting, a photograph or an observed face belongs to. */
  const findHome = (kind: 'sitting' | 'photo' | 'observed', id: number): string => {
    if (kind === 'sitting') {
      const row = db.first(db.sql.selectFrom('sitting').select('piece_id').where('id', '=', id))
      return `/pieces/${row?.piece_id}#sittings`
    }
    const row = db.first(db.sql.selectFrom(kind).select(['piece_id', 'original_id']).where('id', '=', id))
    return row?.piece_id ? `/pieces/${row.piece_id}` : `/originals/${row?.original_id}`
  }

  return router
}
