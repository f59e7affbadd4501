import { today, type Context } from '../context.ts'
import { notFound } from '../errors.ts'
import { viewerMayEdit } from '../rights/allowed.ts'
import { readPhotoForm, type PhotoEntered } from './form.ts'
import { readImage } from './image.ts'
import type { PhotoProblems } from './pages.ts'
import { findTwin, insertPhoto, type PhotoSubject } from './queries.ts'
import { findQuotaProblem } from './quota.ts'
import { storePhoto } from './store.ts'
import { MOST_MEGABYTES, type Upload } from './upload.ts'

export type Added =
  | { readonly ok: true; readonly id: number }
  | {
      readonly ok: false
      readonly status: 409 | 413 | 415 | 422
      readonly entered: PhotoEntered
      readonly problems: PhotoProblems
    }

/** Judges what was sent, and keeps it or says why not; what is refused leaves nothing behind. */
export async function addPhoto(context: Context, subject: PhotoSubject, upload: Upload, body: unknown): Promise<Added> {
  const { db, dataDir, now } = context
  const form = readPhotoForm(body, today(context))
  const entered = form.ok ? { ...form.value, takenOn: form.value.takenOn ?? '' } : form.entered
  const words = form.ok ? {} : form.problems
  const refuse = (status: 409 | 413 | 415 | 422, file: string): Added => {
    return { ok: false, status, entered, problems: { fields: words, file } }
  }
  if (upload.isTooLarge)
    return refuse(413, `It is larger than the ${MOST_MEGABYTES} MB that are taken. Please make it smaller first.`)
  if (upload.path === undefined) return refuse(422, 'Please choose the file of the photograph.')
  const read = await readImage(upload.path)
  if (!read.ok) return refuse(read.refusal.status, read.refusal.message)
  // A browser forgets the file with every answer, so it is asked for again only when all else is right.
  if (!form.ok) return refuse(422, 'Please choose it once more: browsers do not keep a file while a form is mended.')
  try {
    const id = await storePhoto({ dataDir, sent: upload.path, image: read.image }, (stored) =>
      db.write(() => {
        // The upload took its time: the right to it, the room for it and its twin are asked for once more.
        if (!viewerMayEdit(db, subject.noun, subject.id)) throw notFound(subject.noun)
        const full = findQuotaProblem(db, subject, stored.bytes + stored.originalBytes)
        if (full !== undefined) throw new NotKept(413, full)
        if (findTwin(db, subject, stored.sha256))
          throw new NotKept(409, 'This very file is among its photographs already.')
        return insertPhoto(db, subject, form.value, stored, now().toISOString())
      }),
    )
    return { ok: true, id }
  } catch (error) {
    if (error instanceof NotKept) return refuse(error.status, error.message)
    throw error
  }
}

/** Thrown while the files are in place already, so that they are taken away again. */
class NotKept extends Error {
  constructor(
    readonly status: 409 | 413,
    message: string,
  ) {
    super(message)
  }
}
