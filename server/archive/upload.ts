import type { RequestHandler } from 'express'
import multer, { MulterError } from 'multer'
import { HttpError } from '../errors.ts'
import { allowSlowBody } from '../guard.ts'
import { asViewer, type Viewer } from '../rights/viewer.ts'
import { MOST_PACKED_BYTES } from './limit.ts'
import { dropStage, makeStage } from './staging.ts'

export interface SentArchive {
  readonly token: string
  readonly folder: string
  /** Undefined when the form came without a file. */
  readonly path: string | undefined
}

/** Reads a form with one archive into a folder of its own; `res.locals.sent` says where. */
export function readArchiveUpload(dataDir: string): RequestHandler {
  return (req, res, next) => {
    allowSlowBody(res)
    const stage = makeStage(dataDir)
    const storage = multer.diskStorage({
      destination: (_req, _file, done) => done(null, stage.folder),
      filename: (_req, _file, done) => done(null, 'archive.zip'),
    })
    const limits = { fileSize: MOST_PACKED_BYTES, files: 1, fields: 4, parts: 6, fieldNameSize: 40, headerPairs: 20 }
    void multer({ storage, limits: { ...limits, fieldNestingDepth: 0 } }).single('archive')(
      req,
      res,
      (error: unknown) => {
        const { viewer } = res.locals as { viewer: Viewer }
        if (error) {
          dropStage(dataDir, stage.token)
          if (req.destroyed && !req.complete) return
          return next(toRefusal(error))
        }
        res.locals.sent = { ...stage, path: req.file?.path } satisfies SentArchive
        // The events of the upload may have come from outside this request.
        asViewer(viewer, next)
      },
    )
  }
}

function toRefusal(error: unknown): unknown {
  if (error instanceof MulterError)
    return new HttpError(413, 'That was more than this page takes in one go: one archive of up to 2 GB.')
  if (error instanceof Error && !('code' in error)) return new HttpError(400, 'That upload could not be read.')
  return error
}
