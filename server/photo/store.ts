import { createHash, randomBytes } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { mkdir, open, rename, rm, stat } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { mayComeBack } from '../disk-fault.ts'
import type { ReadImage } from './image.ts'
import { folderOf, originalName, photosFolder, sizeName, stagingFolder, type PhotoFiles } from './place.ts'

export interface StoredPhoto extends PhotoFiles {
  /** Of the file as it was sent. */
  readonly sha256: string
  readonly bytes: number
  readonly originalBytes: number
}

/**
 * Puts the files of a photograph into place and only then calls `keep`, which writes the row that points at them. Each is
 * written aside, flushed to the disk and renamed, and the folders are flushed too: whatever the moment of a power cut, no
 * row is without its whole files. When anything fails, `keep` included, no file stays, unless its row may come back.
 * @param sent path of the file as it was sent, in the staging folder; it is moved from there
 */
export async function storePhoto<T>(
  { dataDir, sent, image }: { readonly dataDir: string; readonly sent: string; readonly image: ReadImage },
  keep: (stored: StoredPhoto) => T,
): Promise<T> {
  const file = randomBytes(16).toString('hex')
  const folder = join(photosFolder(dataDir), folderOf(file))
  const pairs = [...image.sizes.map(({ size }) => sizeName(file, size)), originalName(file)].map((name) => ({
    staged: join(stagingFolder(dataDir), name),
    placed: join(folder, name),
  }))
  try {
    const original = pairs.at(-1)!
    await rename(sent, original.staged)
    await flush(original.staged)
    const [sha256, { size: originalBytes }] = await Promise.all([hashFile(original.staged), stat(original.staged)])
    for (const [at, { jpeg }] of image.sizes.entries()) await writeFlushed(pairs[at]!.staged, jpeg)
    await makeFolder(folder, dataDir)
    for (const { staged, placed } of pairs) await rename(staged, placed)
    await flush(folder)
    const bytes = image.sizes.reduce((sum, { jpeg }) => sum + jpeg.length, 0)
    return keep({ file, width: image.width, height: image.height, sha256, bytes, originalBytes })
  } catch (error) {
    const inPlace = mayComeBack(error) ? [] : pairs.map(({ placed }) => placed)
    for (const path of [sent, ...pairs.map(({ staged }) => staged), ...inPlace]) await remove(path)
    throw error
  }
}

/** What the disk does not let go of now is swept later; what was wrong first is what is told. */
async function remove(path: string): Promise<void> {
  await rm(path, { force: true }).catch(() => undefined)
}

/** Takes the files of a photograph away whose row is gone. */
export async function deletePhotoFiles(dataDir: string, names: readonly string[]): Promise<void> {
  for (const name of names) await rm(join(photosFolder(dataDir), name), { force: true })
}

async function writeFlushed(path: string, content: Buffer): Promise<void> {
  const handle = await open(path, 'wx')
  try {
    await handle.writeFile(content)
    await handle.sync()
  } finally {
    await handle.close()
  }
}

/** Of a file its content, of a folder the names in it. */
async function flush(path: string): Promise<void> {
  const handle = await open(path, 'r')
  try {
    await handle.sync()
  } finally {
    await handle.close()
  }
}

/** A new folder is a name in the one above it, so that one is flushed too, up to the notebook's own. */
async function makeFolder(folder: string, dataDir: string): Promise<void> {
  const made = await mkdir(folder, { recursive: true })
  if (made === undefined) return
  for (let above = dirname(folder); above.length >= dataDir.length; above = dirname(above)) await flush(above)
}

export async function hashFile(path: string): Promise<string> {
  const hash = createHash('sha256')
  for await (const chunk of createReadStream(path)) hash.update(chunk as Buffer)
  return hash.digest('hex')
}
