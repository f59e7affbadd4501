import { existsSync } from 'node:fs'
import { join } from 'node:path'
import type { Context } from '../context.ts'
import { viewerMayEdit } from '../rights/allowed.ts'
import { licenceOf } from './licence.ts'
import { folderOf, photosFolder, sizeName } from './place.ts'
import { listPhotos, type Photo, type PhotoSubject } from './queries.ts'
import { listSizes } from './size.ts'

/** The photographs of an original or a piece, as the part `photos` shows them on its page. */
export interface PhotosView {
  readonly photos: readonly (PictureView & { readonly path: string; readonly credit: string })[]
  /** Where one is added; empty for who may not. */
  readonly newPath: string
  readonly noun: string
}

/** One picture in whichever of its sizes fits. */
export interface PictureView {
  readonly caption: string
  readonly part: string
  readonly src: string
  readonly sources: readonly { readonly path: string; readonly width: number }[]
  readonly width: number
  readonly height: number
  /** Its file is gone: the page says so instead of a broken picture. */
  readonly isMissing: boolean
}

export function photosView({ db, dataDir }: Pick<Context, 'db' | 'dataDir'>, subject: PhotoSubject): PhotosView {
  return {
    photos: listPhotos(db, subject).map((photo) => ({
      ...pictureView(dataDir, photo),
      path: `/photos/${photo.id}`,
      credit: creditLine(photo),
    })),
    newPath: viewerMayEdit(db, subject.noun, subject.id) ? `/${subject.noun}s/${subject.id}/photos/new` : '',
    noun: subject.noun,
  }
}

export function pictureView(dataDir: string, photo: Photo): PictureView {
  const sizes = listSizes(photo)
  const [first] = sizes
  const largest = sizes.at(-1) ?? first
  const folder = join(photosFolder(dataDir), folderOf(photo.file))
  return {
    caption: photo.caption,
    part: photo.part,
    src: `/photos/${photo.id}/${first.size}.jpg`,
    sources: sizes.map(({ size, width }) => ({ path: `/photos/${photo.id}/${size}.jpg`, width })),
    width: largest.width,
    height: largest.height,
    isMissing: sizes.some(({ size }) => !existsSync(join(folder, sizeName(photo.file, size)))),
  }
}

/** "Photograph: R. Oss. CC BY 4.0": only what is known. */
function creditLine({ credit, licence }: Photo): string {
  const terms = licence === '' ? '' : licenceOf(licence).label.replace(/:.*$/, '')
  return [credit && `Photograph: ${credit}`, terms].filter(Boolean).join('. ')
}
