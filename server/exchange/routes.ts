import { Router, type Request, type Response } from 'express'
import type { Context } from '../context.ts'
import { notFound, readId } from '../errors.ts'
import { toDublinCore } from './dublin-core.ts'
import { toManifest } from './iiif.ts'
import { toLido } from './lido.ts'
import { toLinkedArt } from './linked-art.ts'
import { gatherRecord, type ExchangeRecord } from './record.ts'
import { toSchemaOrg } from './schema-org.ts'

/** Whoever puts it into a page as it is shall not end a script with it. */
const json = (value: unknown) => `${JSON.stringify(value, null, 2).replaceAll('<', '\\u003c')}\n`

/** What a record is handed over as, by the end of its address. */
const FORMATS: Readonly<Record<string, { readonly type: string; readonly write: (record: ExchangeRecord) => string }>> =
  {
    'lido.xml': { type: 'application/xml', write: toLido },
    'dublin-core.xml': { type: 'application/xml', write: toDublinCore },
    'linked-art.json': { type: 'application/ld+json', write: (record) => json(toLinkedArt(record)) },
    'schema-org.json': { type: 'application/ld+json', write: (record) => json(toSchemaOrg(record)) },
    'manifest.json': { type: 'application/ld+json', write: (record) => json(toManifest(record)) },
  }

/** Originals and pieces for museums and libraries, as far as whoever asks may see them. */
export function exchangeRoutes({ db, baseUrl }: Context & { readonly baseUrl?: string | undefined }): Router {
  const router = Router()
  for (const noun of ['original', 'piece'] as const) {
    for (const [file, { type, write }] of Object.entries(FORMATS)) {
      router.get(`/${noun}s/:id/${file}`, (req: Request<{ id: string }>, res: Response) => {
        const base = baseUrl?.replace(/\/$/, '') ?? `${req.protocol}://${req.headers.host ?? ''}`
        const record = gatherRecord(db, noun, readId(req.params.id, noun), base)
        if (!record) throw notFound(noun)
        // Read by programs and kept as files; a browser shall show none of it as a page of ours.
        res.attachment(`${noun}-${record.id}-${file}`)
        res.type(type).send(write(record))
      })
    }
  }
  return router
}
