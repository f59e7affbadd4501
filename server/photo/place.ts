import { join } from 'node:path'
import { listSizes, type Size } from './size.ts'

/** What a photograph's files are called by. */
export interface PhotoFiles {
  /** 32 hex digits, made here: nothing of the name that the file came with. */
  readonly file: string
  readonly width: number
  readonly height: number
}

export const photosFolder = (dataDir: string): string => join(dataDir, 'photos')

/** What is half written: below the notebook's own folder, so that it can be moved into place in one step. */
export const stagingFolder = (dataDir: string): string => join(dataDir, 'staging')

/** Two folders deep, so that none holds more than a few hundred files. */
export const folderOf = (file: string): string => join(file.slice(0, 2), file.slice(2, 4))

export const sizeName = (file: string, size: Size): string => `${file}-${size}.jpg`

/** Without an ending: what it is, its first bytes say. */
export const originalName = (file: string): string => `${file}-original`

/** Below the photographs folder, with `/` between. */
export function listNamesOf(photo: PhotoFiles): string[] {
  const names = [...listSizes(photo).map(({ size }) => sizeName(photo.file, size)), originalName(photo.file)]
  return names.map((name) => `${folderOf(photo.file).replaceAll('\\', '/')}/${name}`)
}
