import { randomBytes } from 'node:crypto'
import { mkdir } from 'node:fs'
import type { RequestHandler } from 'express'
import multer, { MulterError } from 'multer'
import { HttpError } from '../errors.ts'
import { allowSlowBody } from '../guard.ts'
import { asViewer, type Viewer } from '../rights/viewer.ts'
import { stagingFolder } from './place.ts'

export const MOST_MEGABYTES = 25

/** What came with a form of one file. Whoever is handed it takes the file away again. */
export interface Upload {
  /** In the staging folder, under a name made here; undefined without a file. */
  readonly path: string | undefined
  /** It was larger than is taken, and is gone already. */
  readonly isTooLarge: boolean
}

/**
 * Reads a form with one file into the staging folder. What was sent for is refused before this by rights and Origin: nothing
 * of a stranger's upload is read.
 */
export function readUpload(dataDir: string): RequestHandler {
  const folder = stagingFolder(dataDir)
  const storage = multer.diskStorage({
    destination: (_req, _file, done) => mkdir(folder, { recursive: true }, (error) => done(error, folder)),
    filename: (_req, _file, done) => done(null, `upload-${randomBytes(16).toString('hex')}`),
  })
  const limits = {
    ...{ fileSize: MOST_MEGABYTES * 1024 ** 2, files: 1, fields: 10, parts: 11, fieldSize: 8 * 1024 },
    ...{ fieldNameSize: 40, headerPairs: 20, fieldNestingDepth: 0 },
  }
  const read = multer({ storage, limits }).single('photo')
  return (req, res, next) => {
    allowSlowBody(res)
    if (Number(req.headers['content-length']) > MOST_SENT_BYTES) {
      // Not worth reading on to say so in the form: the connection ends here.
      res.set('Connection', 'close')
      return next(tooLarge())
    }
    void read(req, res, (error: unknown) => {
      const { viewer } = res.locals as { viewer: Viewer }
      const isTooLarge = error instanceof MulterError && error.code === 'LIMIT_FILE_SIZE'
      if (error && !isTooLarge) {
        // Whoever has gone hears no answer; what had come is taken away already.
        if (req.destroyed && !req.complete) return
        return next(toRefusal(error))
      }
      const path = req.file?.path
      res.locals.upload = { path: isTooLarge ? undefined : path, isTooLarge } satisfies Upload
      // The events of the upload may have come from outside this request.
      asViewer(viewer, next)
    })
  }
}

const MOST_SENT_BYTES = 4 * MOST_MEGABYTES * 1024 ** 2
const tooLarge = () => new HttpError(413, `That was more than this page takes in one go (${MOST_MEGABYTES} MB).`)

function toRefusal(error: unknown): unknown {
  if (error instanceof MulterError)
    return new HttpError(413, 'That form had more in it than this page takes: one photograph and a few words about it.')
  // Errors of the file system have a code; what is left is a body that is no form.
  if (error instanceof Error && !('code' in error)) return new HttpError(400, 'That upload could not be read.')
  return error
}
