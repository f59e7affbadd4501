import { createHash } from 'node:crypto'
import { createReadStream, existsSync } from 'node:fs'
import { join } from 'node:path'
import { type PassThrough, Readable, Transform } from 'node:stream'
import { deflateRawSync } from 'node:zlib'
import { ZipFile } from 'yazl'
import { canonicalJson, type Json } from '../../shared/archive/canonical.ts'
import { documentText } from '../../shared/draft/document-text.ts'
import { readDraft } from '../../shared/draft/document.ts'
import { listNamesOf, photosFolder } from '../photo/place.ts'
import { toCrate, toReadme, type ArchiveFile } from './crate.ts'
import type { Gathered } from './gather.ts'
import { MOST_RATIO, RATIO_FROM_BYTES } from './limit.ts'
import { toJson, type Notebook } from './notebook.ts'
import type { ArchiveRecord } from './record.ts'
import { TABLE_KINDS, tablePath, toTable } from './tables.ts'

export interface ArchiveHead {
  readonly name: string
  /** The day on the maker's clock. */
  readonly today: string
  /** The instant that stands beside each file in it. */
  readonly at: Date
}

interface Listed extends ArchiveFile {
  /** What it holds, or the path where it lies. */
  readonly content: Buffer | string
}

/**
 * The archive as a stream. The words were gathered before; photographs are read one by one as it is sent, and the
 * manifest with the SHA-256 of each comes last.
 */
export function writeArchive(gathered: Gathered, dataDir: string, head: ArchiveHead): Readable {
  const zip = new ZipFile()
  // It is a PassThrough of Node, which its types do not say. Wrapped, it would be closed with the last of it unread.
  const output = zip.outputStream as PassThrough
  const fail = (error: unknown) => output.destroy(error instanceof Error ? error : new Error(String(error)))
  zip.on('error', fail)
  const options = { mtime: head.at, forceDosTimestamp: true }
  const files = [...textFiles(gathered, head), ...photoFiles(gathered, dataDir)]
  const crate = canonicalJson(toCrate(head.name, files, head.today))
  const manifest: Record<string, Json> = {}
  for (const { path, content } of [...files, { path: 'ro-crate-metadata.json', content: Buffer.from(crate) }]) {
    const read = () => (typeof content === 'string' ? createReadStream(content) : Readable.from([content]))
    zip.addReadStreamLazy(path, { ...options, compress: isWorthPacking(content) }, (done) => {
      done(
        null,
        hashed(read().on('error', fail), (sum) => (manifest[path] = sum)),
      )
    })
  }
  zip.addReadStreamLazy('manifest.json', options, (done) =>
    done(null, Readable.from([Buffer.from(canonicalJson({ files: manifest }))])),
  )
  zip.end()
  return output
}

/** Pictures are packed already; and what packs like a bomb would be taken for one when it is brought in. */
function isWorthPacking(content: Buffer | string): boolean {
  if (typeof content === 'string') return false
  return content.length < RATIO_FROM_BYTES || deflateRawSync(content).length * (MOST_RATIO - 10) > content.length
}

function textFiles({ notebook }: Gathered, { name, today }: ArchiveHead): Listed[] {
  const listed = (path: string, content: string, type: string, about: string): Listed => ({
    ...{ path, content: Buffer.from(content), type, about },
  })
  return [
    listed('README.txt', toReadme(name, notebook, today), 'text/plain', 'What this is'),
    listed('notebook.json', canonicalJson(toJson(notebook)), 'application/json', 'Everything in words and figures'),
    ...TABLE_KINDS.map((kind) => listed(tablePath(kind), toTable(kind, notebook), 'text/csv', `Table: ${kind}s`)),
    ...draftFiles(notebook).map(({ path, text, about }) => listed(path, text, 'application/json', about)),
  ]
}

function draftFiles({ records }: Notebook): { path: string; text: string; about: string }[] {
  return records.draft.flatMap((draft) =>
    (draft.revisions as readonly ArchiveRecord[]).map(({ number, document }) => {
      const read = readDraft(document)
      const text = read.ok ? documentText(read.draft) : canonicalJson(document!)
      const about = `Draft: ${String(draft.title)}, revision ${String(number)}`
      return { path: `drafts/${draft.uid}-${String(number)}.json`, text, about }
    }),
  )
}

/** A file that is gone is left out, and missed when the archive is brought in; `admin check` names it. */
function photoFiles({ notebook, photos }: Gathered, dataDir: string): Listed[] {
  const records = new Map(notebook.records.photo.map((record) => [record.uid, record]))
  return photos.flatMap((photo) => {
    const record = records.get(photo.uid)
    const [caption, licence, credit] = [record?.caption, record?.licence, record?.credit].map((each) =>
      String(each ?? ''),
    )
    return listNamesOf(photo).flatMap((name) => {
      const ending = name.slice(name.lastIndexOf('-') + 1)
      const content = join(photosFolder(dataDir), name)
      if ((ending === 'original' && !photo.withOriginal) || !existsSync(content)) return []
      const type = ending === 'original' ? 'application/octet-stream' : 'image/jpeg'
      const path = `photographs/${photo.uid}/${ending}`
      return [{ path, content, type, about: caption!, licence: licence!, credit: credit! }]
    })
  })
}

function hashed(from: Readable, keep: (sum: { sha256: string; bytes: number }) => void): Readable {
  const hash = createHash('sha256')
  let bytes = 0
  const through = new Transform({
    transform(chunk: Buffer, _encoding, done) {
      hash.update(chunk)
      bytes += chunk.length
      done(null, chunk)
    },
    flush(done) {
      keep({ sha256: hash.digest('hex'), bytes })
      done()
    },
  })
  return from.pipe(through)
}
