import { existsSync, readdirSync, rmSync, statSync } from 'node:fs'
import { join, relative, sep } from 'node:path'
import type { Db } from '../db/open.ts'
import { hashFile } from './store.ts'
import { listNamesOf, photosFolder, stagingFolder } from './place.ts'

export interface PhotoFile {
  /** Below the notebook's folder, with `/` between: `photos/ab/cd/…`, `staging/…`. */
  readonly name: string
  readonly bytes: number
  readonly modifiedAt: Date
}

/** Every file below the photographs folder. */
export const listPhotoFiles = (dataDir: string): PhotoFile[] => listFiles(photosFolder(dataDir), dataDir)

/** Files that no row points at: what a crash left between the file and its row, and what lies half written. */
export function findOrphans(db: Db, dataDir: string): PhotoFile[] {
  const rows = db.all(db.sql.selectFrom('photo').select(['file', 'width', 'height']))
  const known = new Set(rows.flatMap((row) => listNamesOf(row).map((name) => `photos/${name}`)))
  const files = listPhotoFiles(dataDir).filter(({ name }) => !known.has(name))
  return [...files, ...listStaged(dataDir)]
}

export interface MissingPhoto {
  readonly id: number
  readonly caption: string
  /** Below the notebook's folder. */
  readonly names: readonly string[]
}

/** Rows, bin included, that have not all of their files. */
export function findMissingPhotos(db: Db, dataDir: string): MissingPhoto[] {
  const rows = db.all(db.sql.selectFrom('photo').select(['id', 'caption', 'file', 'width', 'height']).orderBy('id'))
  return rows.flatMap((row) => {
    const names = listNamesOf(row)
      .map((name) => `photos/${name}`)
      .filter((name) => !existsSync(join(dataDir, name)))
    return names.length === 0 ? [] : [{ id: row.id, caption: row.caption, names }]
  })
}

/**
 * Rows, bin included, whose files are there and are not what they were: the file as it was sent by its sum, the web sizes
 * by their bytes together. A disk forgets in silence, and nobody opens a photograph of years ago.
 */
export async function findChangedPhotos(db: Db, dataDir: string): Promise<MissingPhoto[]> {
  const columns = ['id', 'caption', 'file', 'width', 'height', 'sha256', 'bytes'] as const
  const found: MissingPhoto[] = []
  for (const row of db.all(db.sql.selectFrom('photo').select(columns).orderBy('id'))) {
    const names = listNamesOf(row).map((name) => `photos/${name}`)
    if (!names.every((name) => existsSync(join(dataDir, name)))) continue
    const [sizes, original] = [names.slice(0, -1), names.slice(-1)]
    const bytes = sizes.reduce((sum, name) => sum + statSync(join(dataDir, name)).size, 0)
    if (bytes !== row.bytes) found.push({ id: row.id, caption: row.caption, names: sizes })
    for (const name of original)
      if ((await hashFile(join(dataDir, name))) !== row.sha256)
        found.push({ id: row.id, caption: row.caption, names: original })
  }
  return found
}

/**
 * Takes away the orphans last written before this instant, and says which. A younger one may belong to an upload that is
 * under way: an hour is long enough for any.
 */
export function sweepOrphans(db: Db, dataDir: string, writtenBefore: Date): PhotoFile[] {
  const swept = findOrphans(db, dataDir).filter(({ modifiedAt }) => modifiedAt < writtenBefore)
  for (const { name } of swept) rmSync(join(dataDir, name), { force: true })
  return swept
}

/** At the start: what an upload left half written when the program ended in the middle of it. */
export function sweepStaging(dataDir: string, writtenBefore: Date): PhotoFile[] {
  const swept = listStaged(dataDir).filter(({ modifiedAt }) => modifiedAt < writtenBefore)
  for (const { name } of swept) rmSync(join(dataDir, name), { force: true })
  return swept
}

/** Folders in there belong to whoever made them. */
const listStaged = (dataDir: string): PhotoFile[] =>
  listFiles(stagingFolder(dataDir), dataDir).filter(({ name }) => name.split('/').length === 2)

function listFiles(folder: string, dataDir: string): PhotoFile[] {
  if (!existsSync(folder)) return []
  return readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile())
    .map((entry) => {
      const path = join(entry.parentPath, entry.name)
      const { size, mtime } = statSync(path)
      return { name: relative(dataDir, path).split(sep).join('/'), bytes: size, modifiedAt: mtime }
    })
    .sort((left, right) => (left.name < right.name ? -1 : 1))
}
