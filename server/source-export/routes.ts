import { Router } from 'express'
import type { Context } from '../context.ts'
import { HttpError } from '../errors.ts'
import { listSources } from '../source/queries.ts'
import { chosenSources } from './selection.ts'
import { FORMAT_KEYS, FORMATS, writeSources } from './write.ts'

/** Sources as a file: those that are named, else all that the viewer may see. */
export function sourceExportRoutes({ db }: Pick<Context, 'db'>): Router {
  const router = Router()

  router.get('/sources/export', async (req, res) => {
    const format = FORMAT_KEYS.find((key) => key === req.query.format)
    if (!format) throw new HttpError(400, 'Please say as what: bibtex, ris or csl.')
    const text = await writeSources(chosenSources(listSources(db), req.query.source), format)
    res.attachment(FORMATS[format].file)
    res.type(FORMATS[format].type).send(text)
  })

  return router
}
