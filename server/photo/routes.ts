import { rm } from 'node:fs/promises'
import { Router, type Request, type Response } from 'express'
import { toBin } from '../bin/queries.ts'
import { today, type Context } from '../context.ts'
import { notFound, readId } from '../errors.ts'
import { readEntered } from '../form.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { viewerMayEdit, viewerMayOwn } from '../rights/allowed.ts'
import { addPhoto } from './add.ts'
import { readPhotoForm } from './form.ts'
import * as pages from './pages.ts'
import type { NamedSubject } from './pages.ts'
import { findPhoto, findPlace, findSubjectName, updatePhoto, type Photo, type PhotoSubject } from './queries.ts'
import { readUpload, type Upload } from './upload.ts'
import { pictureView } from './view.ts'

export function photoRoutes(context: Context): Router {
  const { db, page, now, dataDir } = context
  const router = Router()
  const named = (subject: PhotoSubject): NamedSubject => {
    const name = findSubjectName(db, subject)
    if (name === undefined) throw notFound(subject.noun)
    return { ...subject, name }
  }
  const photoAt = (text: string | undefined): Photo => {
    const photo = findPhoto(db, readId(text, 'photograph'))
    if (!photo) throw notFound('photograph')
    return photo
  }
  const upload = readUpload(dataDir)

  for (const noun of ['original', 'piece'] as const) {
    const subjectAt = (req: Request<{ id: string }>) => named({ noun, id: readId(req.params.id, noun) })

    router.get(`/${noun}s/:id/photos/new`, (req: Request<{ id: string }>, res) => {
      const subject = subjectAt(req)
      res.send(page('photo/edit', pages.newPhotoPage(subject, pages.blankPhoto(subject))))
    })

    router.post(`/${noun}s/:id/photos`, upload, async (req: Request<{ id: string }>, res: Response) => {
      const sent = res.locals.upload as Upload
      const { subject, result } = await usingUp(sent, async () => {
        const subject = subjectAt(req)
        return { subject, result: await addPhoto(context, subject, sent, req.body) }
      })
      if (result.ok) return seeOther(res, `/photos/${result.id}`, 'saved')
      const { status, entered, problems } = result
      res.status(status).send(page('photo/edit', pages.newPhotoPage(subject, entered, problems)))
    })
  }

  router.get('/photos/:id', (req, res) => {
    const photo = photoAt(req.params.id)
    const rights = { mayEdit: viewerMayEdit(db, 'photo', photo.id), mayOwn: viewerMayOwn(db, 'photo', photo.id) }
    const shown = { zoom: pages.readZoom(req.query.zoom), rights, notice: noticeOf(req), place: findPlace(db, photo) }
    const picture = pictureView(dataDir, photo)
    res.send(page('photo/show', pages.photoShowPage(photo, named(photo.subject), picture, shown)))
  })

  router.get('/photos/:id/edit', (req, res) => {
    const photo = photoAt(req.params.id)
    res.send(page('photo/edit', pages.photoEditPage(photo, named(photo.subject), pages.typedPhoto(photo))))
  })

  router.post('/photos/:id', (req, res) => {
    const photo = photoAt(req.params.id)
    const form = readPhotoForm(req.body, today(context))
    const subject = named(photo.subject)
    if (!form.ok) {
      const opened = { ...photo, version: openedVersion(req.body) ?? photo.version }
      const shown = pages.photoEditPage(opened, subject, form.entered, { fields: form.problems })
      return void res.status(422).send(page('photo/edit', shown))
    }
    const version = openedVersion(req.body) ?? photo.version
    if (updatePhoto(db, { id: photo.id, version }, form.value, now().toISOString()))
      return seeOther(res, `/photos/${photo.id}`, 'saved')
    const entered = { ...form.value, takenOn: form.value.takenOn ?? '' }
    res.status(409).send(page('photo/edit', pages.stalePhotoPage(photo, subject, entered)))
  })

  router.post('/photos/:id/delete', (req, res) => {
    const { id, subject } = photoAt(req.params.id)
    toBin(db, 'photo', id, now().toISOString())
    seeOther(res, `/${subject.noun}s/${subject.id}?undo=photo-${id}#photographs`, 'deleted')
  })

  return router
}

/** What is not moved into place is gone before the answer. */
async function usingUp<T>({ path }: Upload, work: () => Promise<T>): Promise<T> {
  try {
    return await work()
  } finally {
    if (path !== undefined) await rm(path, { force: true })
  }
}

/** The version that the form was opened on. */
function openedVersion(body: unknown): number | undefined {
  const { version } = readEntered(body, ['version'])
  return /^\d{1,9}$/.test(version) ? Number(version) : undefined
}
