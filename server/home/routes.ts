import { Router } from 'express'
import { loadDemo } from '../../seeds-demo/load.ts'
import { loadDemoPhotos } from '../../seeds-demo/photo/load.ts'
import type { Context } from '../context.ts'
import { deleteGonePhotos, listDemoPhotos } from '../demo/photos.ts'
import { countDemo, hasDemo, removeDemo } from '../demo/queries.ts'
import { listStaying } from '../demo/staying.ts'
import { HttpError } from '../errors.ts'
import { timerView } from '../hours/timer-view.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { viewerIsKeeper } from '../rights/allowed.ts'
import { colophonPage } from './colophon-page.ts'
import { demoRemovePage } from './demo-page.ts'
import { emptyPage, homePage } from './pages.ts'
import { countNotebook, findHeroDraft, listMeasuredPieces, listOnLoom, listRecentOriginals } from './queries.ts'
import { welcomePicture } from './welcome.ts'

export function homeRoutes({ db, page, now, dataDir }: Context): Router {
  const router = Router()

  router.get('/', (req, res) => {
    const counts = countNotebook(db)
    const isEmpty = counts.originals + counts.drafts + counts.pieces + counts.sources === 0
    if (isEmpty) return void res.send(page('home/empty', emptyPage(noticeOf(req))))
    const originals = listRecentOriginals(db, 6)
    const found = {
      ...{ counts, hero: findHeroDraft(db), hasDemo: hasDemo(db) && viewerIsKeeper() },
      onLoom: listOnLoom(db, 4),
      timer: timerView(db, now(), '/'),
      originals,
      measured: listMeasuredPieces(
        db,
        originals.map(({ id }) => id),
      ),
    }
    res.send(page('home/show', homePage(found, noticeOf(req))))
  })

  router.get('/welcome.svg', (_req, res) => {
    res.set('Cache-Control', 'private, max-age=3600').type('image/svg+xml').send(welcomePicture())
  })

  router.get('/colophon', (_req, res) => {
    res.send(page('home/colophon', colophonPage(db.raw.name, hasDemo(db), viewerIsKeeper())))
  })

  router.post('/demo', async (_req, res) => {
    db.write(() => {
      if (hasDemo(db)) throw new HttpError(409, 'The demo collection is in this notebook already.')
      loadDemo(db, now())
    })
    await loadDemoPhotos({ db, dataDir })
    seeOther(res, '/', 'demo-loaded')
  })

  router.get('/demo/remove', (_req, res) => {
    if (!hasDemo(db)) throw new HttpError(404, 'The demo collection is not in this notebook.')
    res.send(page('home/demo-remove', demoRemovePage(countDemo(db), listStaying(db))))
  })

  router.post('/demo/remove', async (_req, res) => {
    const photos = listDemoPhotos(db)
    const kept = removeDemo(db)
    await deleteGonePhotos(db, dataDir, photos)
    seeOther(res, '/', kept.length === 0 ? 'demo-removed' : 'demo-kept')
  })

  return router
}
