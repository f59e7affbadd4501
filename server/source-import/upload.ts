import type { RequestHandler } from 'express'
import multer, { MulterError } from 'multer'
import { HttpError } from '../errors.ts'
import { asViewer, type Viewer } from '../rights/viewer.ts'

/** A file of two thousand sources has half of this. */
export const MOST_BYTES = 2 * 1024 * 1024

const LIMITS = {
  ...{ fileSize: MOST_BYTES, files: 1, fields: 2100, parts: 2101, fieldSize: MOST_BYTES },
  ...{ fieldNameSize: 40, headerPairs: 20, fieldNestingDepth: 0 },
}

/** Reads a form with one small file into memory; a form without one is read already. */
export function readSourceFile(): RequestHandler {
  const read = multer({ storage: multer.memoryStorage(), limits: LIMITS }).single('file')
  return (req, res, next) => {
    void read(req, res, (error: unknown) => {
      const { viewer } = res.locals as { viewer: Viewer }
      if (error && req.destroyed && !req.complete) return
      if (error instanceof MulterError)
        return next(
          new HttpError(413, `That was more than this page takes: one file of up to ${MOST_BYTES / 1024 ** 2} MB.`),
        )
      if (error) return next(new HttpError(400, 'That upload could not be read.'))
      // The events of the upload may have come from outside this request.
      asViewer(viewer, next)
    })
  }
}
