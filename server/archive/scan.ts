import yauzl, { type Entry, type ZipFile } from 'yauzl'
import { HttpError } from '../errors.ts'
import { MOST_ENTRIES, MOST_JSON_BYTES, MOST_RATIO, MOST_UNPACKED_BYTES, RATIO_FROM_BYTES } from './limit.ts'

/** An archive that is not brought in; the message says why, and that nothing was changed. */
export const refuse = (why: string): never => {
  throw new HttpError(422, `${why} Nothing was changed.`)
}

/** Every name that an archive has. Nothing else is unpacked, so no name can lead anywhere. */
const NAMES =
  /^(README\.txt|notebook\.json|manifest\.json|ro-crate-metadata\.json|csv\/[a-z]{1,30}\.csv|drafts\/[0-9a-f]{32}-\d{1,7}\.json|photographs\/[0-9a-f]{32}\/(480\.jpg|1280\.jpg|2400\.jpg|original))$/

const UNIX = 3
const [TYPE_MASK, REGULAR, FOLDER] = [0o170000, 0o100000, 0o040000]

/**
 * Opens a zip and looks at its directory before a byte is unpacked: numbers, sizes, names, kinds, and that no two entries
 * share bytes. The library that reads it checks none of the last four.
 * @returns the zip, to be closed by the caller, and its entries by their names
 * @throws HttpError 422 with the reason
 */
export async function scanZip(path: string): Promise<{ zip: ZipFile; entries: ReadonlyMap<string, Entry> }> {
  const zip = await readable(yauzl.openPromise(path, { lazyEntries: true, autoClose: false, strictFileNames: true }))
  try {
    if (zip.entryCount > MOST_ENTRIES)
      refuse(`This zip has ${zip.entryCount} entries; an archive has at most ${MOST_ENTRIES}.`)
    if (zip.comment !== '') refuse('This zip has a comment after its end, which no archive has.')
    const entries = await readable(listEntries(zip))
    await refuseOverlaps(zip, [...entries.values()])
    return { zip, entries }
  } catch (error) {
    zip.close()
    throw error
  }
}

/** What the library throws is about the file; what we throw says its reason already. */
async function readable<T>(work: Promise<T>): Promise<T> {
  try {
    return await work
  } catch (error) {
    if (error instanceof HttpError) throw error
    return refuse(`This zip cannot be read: ${error instanceof Error ? error.message.slice(0, 200) : 'damaged'}.`)
  }
}

async function listEntries(zip: ZipFile): Promise<Map<string, Entry>> {
  const entries = new Map<string, Entry>()
  let total = 0
  for await (const entry of zip.eachEntry()) {
    const problem = findProblem(entry)
    if (problem) refuse(problem)
    if (entry.fileName.endsWith('/')) continue
    if (entries.has(entry.fileName)) refuse(`The name ${entry.fileName} is there twice.`)
    entries.set(entry.fileName, entry)
    total += entry.uncompressedSize
    if (total > MOST_UNPACKED_BYTES) refuse('Unpacked this would take more than the 8 GB that an archive may have.')
  }
  return entries
}

function findProblem(entry: Entry): string {
  const { fileName, uncompressedSize, compressedSize } = entry
  const shown = JSON.stringify(fileName.slice(0, 80))
  if ((entry.generalPurposeBitFlag & 0x41) !== 0) return `The entry ${shown} is encrypted.`
  const type = entry.versionMadeBy >> 8 === UNIX ? (entry.externalFileAttributes >>> 16) & TYPE_MASK : 0
  if (type !== 0 && type !== REGULAR && type !== FOLDER) return `The entry ${shown} is a link or a device, not a file.`
  // Packing programs put the folders in as entries of their own.
  if (/^(csv|drafts|photographs(\/[0-9a-f]{32})?)\/$/.test(fileName) && uncompressedSize === 0) return ''
  if (!NAMES.test(fileName)) return `The entry ${shown} is not part of an archive.`
  if (entry.compressionMethod !== 0 && entry.compressionMethod !== 8)
    return `The entry ${shown} is packed in an unusual way.`
  if (uncompressedSize > RATIO_FROM_BYTES && uncompressedSize > compressedSize * MOST_RATIO)
    return `The entry ${shown} would unpack to more than ${MOST_RATIO} times its size.`
  if (fileName.endsWith('.json') && uncompressedSize > MOST_JSON_BYTES)
    return `The entry ${shown} is larger than 128 MB.`
  return ''
}

const LOCAL_HEADER_BYTES = 30

/** From the header of each to the last byte of its data: an overlapping bomb unpacks the same bytes a thousand times. */
async function refuseOverlaps(zip: ZipFile, entries: readonly Entry[]): Promise<void> {
  const sorted = [...entries].sort((a, b) => a.relativeOffsetOfLocalHeader - b.relativeOffsetOfLocalHeader)
  let end = 0
  for (const entry of sorted) {
    const start = entry.relativeOffsetOfLocalHeader
    if (start < end) refuse(`The entry ${entry.fileName} shares bytes with another one.`)
    if (end === 0 && start !== 0) refuse('Something stands before the first entry of this zip.')
    const header = await readable(zip.readLocalFileHeaderPromise(entry, {} as { minimal: true }))
    const { fileName } = header as unknown as { fileName: Buffer }
    if (!fileName.equals(entry.fileNameRaw)) refuse(`The entry ${entry.fileName} has two names.`)
    if (header.fileDataStart < start + LOCAL_HEADER_BYTES) refuse(`The entry ${entry.fileName} is damaged.`)
    end = header.fileDataStart + entry.compressedSize
  }
}
