import { Router } from 'express'
import type { Context } from '../context.ts'
import { seeOther } from '../notice.ts'
import { listSources } from '../source/queries.ts'
import { readImportForm } from './form.ts'
import { keepSources } from './keep.ts'
import { lookAtFile } from './look.ts'
import { sourceImportPage } from './pages.ts'
import { readSourceFile } from './upload.ts'

/** Sources from a file: looked at first, kept when that is asked. */
export function sourceImportRoutes({ db, page, now, references }: Context): Router {
  const router = Router()

  router.get('/sources/import', (_req, res) => void res.send(page('source-import/show', sourceImportPage(db))))

  router.post('/sources/import', readSourceFile(), async (req, res) => {
    const form = readImportForm(req.body, req.file?.buffer)
    const isSound = Object.keys(form.problems).length === 0
    if (form.problems.document) return void res.status(422).send(page('source-import/show', sourceImportPage(db, form)))
    const looked = await lookAtFile(form.entered.document, form.format, listSources(db))
    const hasSources = looked.some((entry) => 'form' in entry)
    if (!isSound || !hasSources)
      return void res.status(422).send(page('source-import/show', sourceImportPage(db, form, looked)))
    if (!form.keep || !form.isLookedAt)
      return void res.send(page('source-import/show', sourceImportPage(db, form, looked, form.keep)))
    keepSources(db, looked, form, now().toISOString())
    await references?.bringUpToDate()
    seeOther(res, '/sources', 'sources-kept')
  })

  return router
}
