import { Router } from 'express'
import type { Context } from '../context.ts'
import { notFound, readId } from '../errors.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { binPage } from './pages.ts'
import { findInBin, fromBin, listBin, purge, type Binned } from './queries.ts'

const PARTS = ['sitting', 'photo', 'observed', 'judgement', 'decision'] as const
type Part = (typeof PARTS)[number]
const isPart = (kind: Binned): kind is Part => (PARTS as readonly Binned[]).includes(kind)

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
    const place = isPart(kind) ? findHome(kind, id) : `/${kind}s/${id}`
    seeOther(res, place, 'restored')
  })

  router.post('/bin/:kind/:entry/purge', (req, res) => {
    const { kind, id } = entryAt(req.params.kind, req.params.entry)
    seeOther(res, '/bin', purge(db, kind, id) ? 'purged' : 'needed')
  })

  /** The page of what a part belongs to. */
  const findHome = (kind: Part, id: number): string => {
    if (kind === 'sitting' || kind === 'judgement') {
      const row = db.first(db.sql.selectFrom(kind).select('piece_id').where('id', '=', id))
      return `/pieces/${row?.piece_id}${kind === 'sitting' ? '#sittings' : '/fidelity'}`
    }
    const row = db.first(db.sql.selectFrom(kind).select(['piece_id', 'original_id']).where('id', '=', id))
    return row?.piece_id ? `/pieces/${row.piece_id}` : `/originals/${row?.original_id}`
  }

  return router
}
