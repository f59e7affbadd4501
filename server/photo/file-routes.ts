import { join } from 'node:path'
import { Router, type Response } from 'express'
import type { Context } from '../context.ts'
import { notFound, readId } from '../errors.ts'
import { IMAGE_TYPES, readKind } from './kind.ts'
import { folderOf, originalName, photosFolder, sizeName } from './place.ts'
import { findPhoto, type Photo } from './queries.ts'
import { listSizes } from './size.ts'

/** The pictures themselves. */
export function photoFileRoutes({ db, dataDir }: Context): Router {
  const router = Router()
  const photoAt = (text: string | undefined): Photo => {
    const photo = findPhoto(db, readId(text, 'photograph'))
    if (!photo) throw notFound('photograph')
    return photo
  }
  const folder = photosFolder(dataDir)
  const send = (res: Response, photo: Photo, name: string, type: string, next: (error: unknown) => void) => {
    // Asked for again each time, so that a picture is gone from view with the right to see it; 304 makes it cheap.
    const headers = { 'Content-Security-Policy': "default-src 'none'; sandbox", 'Cache-Control': 'private, no-cache' }
    const options = { root: folder, cacheControl: false, headers: { ...headers, 'Content-Type': type } }
    res.sendFile(join(folderOf(photo.file), name), options, (error) => {
      if (!error || res.headersSent) return
      for (const header of ['Content-Disposition', 'Content-Type']) res.removeHeader(header)
      next('status' in error && error.status === 404 ? notFound(FILE) : error)
    })
  }

  router.get('/photos/:id/original', async (req, res, next) => {
    const photo = photoAt(req.params.id)
    const name = originalName(photo.file)
    const kind = await readKind(join(folder, folderOf(photo.file), name)).catch((error: NodeJS.ErrnoException) => {
      if (error.code === 'ENOENT') throw notFound(FILE)
      throw error
    })
    if (kind === 'heic' || kind === 'other') throw notFound('picture in the file of this photograph')
    const { type, ending } = IMAGE_TYPES[kind]
    res.attachment(`${toFileName(photo)}.${ending}`)
    send(res, photo, name, type, next)
  })

  router.get('/photos/:id/:size.jpg', (req, res, next) => {
    const photo = photoAt(req.params.id)
    const sized = listSizes(photo).find(({ size }) => String(size) === req.params.size)
    if (!sized) throw notFound('picture')
    send(res, photo, sizeName(photo.file, sized.size), 'image/jpeg', next)
  })

  return router
}

const FILE = 'file for this photograph any more'

/** From the caption, without what a file system or a header could stumble over: never the name it came with. */
function toFileName({ id, caption }: Photo): string {
  const words = caption.replace(/[^\p{L}\p{N}]+/gu, ' ').trim()
  return `${words.slice(0, 60).trim() || 'photograph'} ${id}`
}
