import { createHash } from 'node:crypto'
import { open } from 'node:fs/promises'
import { join } from 'node:path'
import { crc32 } from 'node:zlib'
import type { Entry, ZipFile } from 'yauzl'
import { z } from 'zod'
import { HttpError } from '../errors.ts'
import { listInconsistencies } from './consistency.ts'
import { MOST_JSON_BYTES } from './limit.ts'
import { refuseBeyondMemory } from './memory.ts'
import { readNotebook, type Notebook } from './notebook.ts'
import { findPictureProblem } from './picture.ts'
import { refuse, scanZip } from './scan.ts'

/** The files of one photograph in the staging folder, by what they are: `480.jpg`, `original`. */
export type StagedPhoto = Readonly<
  Record<string, { readonly path: string; readonly sha256: string; readonly bytes: number }>
>

export interface Unpacked {
  readonly notebook: Notebook
  readonly photos: ReadonlyMap<string, StagedPhoto>
}

const manifestShape = z.strictObject({
  files: z.record(z.string(), z.strictObject({ bytes: z.int().min(0), sha256: z.string().regex(/^[0-9a-f]{64}$/) })),
})

/**
 * Unpacks an archive into a folder, every file under a name made here and flushed to the disk; every byte is checked
 * against its CRC and against the SHA-256 of the manifest, and the words against their shapes.
 * @throws HttpError 422 with the reason; the caller takes the folder away
 */
export async function unpackArchive(path: string, folder: string): Promise<Unpacked> {
  const { zip, entries } = await scanZip(path)
  try {
    const manifest = readManifest(await readJson(zip, entries, 'manifest.json'))
    for (const name of Object.keys(manifest))
      if (!entries.has(name)) refuse(`The file ${name.slice(0, 80)} is missing.`)
    const photos = new Map<string, Record<string, StagedPhoto[string]>>()
    let notebook: unknown
    for (const [name, entry] of entries) {
      if (name === 'manifest.json') continue
      const [, uid, file] = /^photographs\/(\w+)\/(.+)$/.exec(name) ?? []
      const staged = uid === undefined ? undefined : join(folder, `${uid}-${file}`)
      const chunks: Buffer[] = []
      const read = await readEntry(zip, entry, staged ?? (name === 'notebook.json' ? chunks : undefined))
      const listed = Object.hasOwn(manifest, name) ? manifest[name] : undefined
      if (!listed) refuse(`The file ${name} is not in the manifest.`)
      if (listed!.sha256 !== read.sha256 || listed!.bytes !== read.bytes)
        refuse(`The file ${name} is not as it was written: its SHA-256 is another.`)
      if (name === 'notebook.json') notebook = parseJson(name, Buffer.concat(chunks))
      if (uid === undefined || staged === undefined) continue
      const problem = await findPictureProblem(staged, file!)
      if (problem) refuse(`The file ${name} ${problem}`)
      photos.set(uid, { ...photos.get(uid), [file!]: { path: staged, ...read } })
    }
    if (notebook === undefined) refuse('There is no notebook.json in this zip, so it is no archive.')
    return { notebook: checkNotebook(notebook), photos }
  } finally {
    zip.close()
  }
}

export function checkNotebook(input: unknown): Notebook {
  const read = readNotebook(input)
  if (!read.ok) return refuse(`notebook.json cannot be read. ${read.problems.join(' ')}`)
  const problems = listInconsistencies(read.notebook)
  if (problems.length > 0) refuse(`notebook.json does not hold together. ${problems.join(' ')}`)
  return read.notebook
}

function readManifest(input: unknown): Record<string, { bytes: number; sha256: string }> {
  const read = manifestShape.safeParse(input)
  return read.success ? read.data.files : refuse('manifest.json is not a list of files with their SHA-256.')
}

async function readJson(zip: ZipFile, entries: ReadonlyMap<string, Entry>, name: string): Promise<unknown> {
  const entry = entries.get(name)
  if (!entry) return refuse(`There is no ${name} in this zip, so it is no archive.`)
  const chunks: Buffer[] = []
  await readEntry(zip, entry, chunks)
  return parseJson(name, Buffer.concat(chunks))
}

function parseJson(name: string, content: Buffer): unknown {
  try {
    return JSON.parse(new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(content)) as unknown
  } catch {
    return refuse(`The file ${name} is not JSON in UTF-8.`)
  }
}

/** Reads one entry to its end, to a new file or into memory, and counts for itself what comes. */
async function readEntry(
  zip: ZipFile,
  entry: Entry,
  into: string | Buffer[] | undefined,
): Promise<{ sha256: string; bytes: number }> {
  if (Array.isArray(into)) refuseBeyondMemory(entry.fileName, entry.uncompressedSize)
  const file = typeof into === 'string' ? await open(into, 'wx') : undefined
  try {
    const hash = createHash('sha256')
    let [bytes, crc] = [0, 0]
    for await (const chunk of await zip.openReadStreamPromise(entry)) {
      const data = chunk as Buffer
      bytes += data.length
      if (bytes > entry.uncompressedSize || (Array.isArray(into) && bytes > MOST_JSON_BYTES))
        refuse(`The entry ${entry.fileName} is larger than it says.`)
      hash.update(data)
      crc = crc32(data, crc)
      if (file) await file.writeFile(data)
      else if (Array.isArray(into)) into.push(data)
    }
    if (bytes !== entry.uncompressedSize) refuse(`The entry ${entry.fileName} is shorter than it says.`)
    if (crc !== entry.crc32) refuse(`The entry ${entry.fileName} is damaged: its CRC is another.`)
    await file?.sync()
    return { sha256: hash.digest('hex'), bytes }
  } catch (error) {
    // The disk's own errors have a code of their own; what is left is about the zip.
    const isOurs = error instanceof HttpError || (error instanceof Error && 'syscall' in error)
    if (isOurs) throw error
    return refuse(
      `The entry ${entry.fileName} cannot be unpacked: ${error instanceof Error ? error.message : 'damaged'}.`,
    )
  } finally {
    await file?.close()
  }
}
