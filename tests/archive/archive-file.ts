import { createHash } from 'node:crypto'
import { createWriteStream, mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { pipeline } from 'node:stream/promises'
import { bringIn, type Choice } from '../../server/archive/bring-in.ts'
import { gather, type Scope } from '../../server/archive/gather.ts'
import type { Notebook } from '../../server/archive/notebook.ts'
import { unpackArchive, type StagedPhoto, type Unpacked } from '../../server/archive/unpack.ts'
import { writeArchive } from '../../server/archive/write.ts'
import type { Db } from '../../server/db/open.ts'
import { listNamesOf } from '../../server/photo/place.ts'
import { makeDataDir, NOW } from '../support/start.ts'

/** The archive of a notebook as a file of its own. */
export async function exportTo(db: Db, dataDir: string, scope: Scope = { kind: 'notebook' }): Promise<string> {
  const file = join(makeDataDir(), 'archive.zip')
  const head = { name: 'A notebook', today: '2026-11-24', at: NOW }
  await pipeline(writeArchive(gather(db, scope), dataDir, head), createWriteStream(file))
  return file
}

export async function importFrom(
  db: Db,
  dataDir: string,
  file: string,
  choices: ReadonlyMap<string, Choice> = new Map(),
) {
  return bringIn(db, await unpackArchive(file, makeDataDir()), choices, dataDir)
}

/** The smallest thing that begins, goes on and ends like a JPEG; what makes it another one stands in its picture. */
export function fakeJpeg(words: string): Buffer {
  const head = [0xff, 0xd8, 0xff, 0xe0, 0, 4, 0, 0, 0xff, 0xda, 0, 2]
  return Buffer.concat([Buffer.from(head), Buffer.from(words.replaceAll('\u00ff', '')), Buffer.from([0xff, 0xd9])])
}

/** Photographs for a generated notebook: files in a folder, with their true hashes in the records. */
export function withPhotos({ features, records }: Notebook, folder = makeDataDir()): Unpacked {
  mkdirSync(folder, { recursive: true })
  const photos = new Map<string, StagedPhoto>()
  const photo = records.photo.map((record) => {
    const place = { file: record.uid, width: Number(record.width), height: Number(record.height) }
    const staged = Object.fromEntries(
      listNamesOf(place).map((name) => {
        const key = name.slice(name.lastIndexOf('-') + 1)
        const content = fakeJpeg(`${record.uid} ${key}`)
        const path = join(folder, `${record.uid}-${key}`)
        writeFileSync(path, content)
        return [key, { path, sha256: sha256(content), bytes: content.length }]
      }),
    )
    photos.set(record.uid, staged)
    return { ...record, sha256: staged.original!.sha256 }
  })
  return { notebook: { features, records: { ...records, photo } }, photos }
}

export const sha256 = (content: Buffer | string): string => createHash('sha256').update(content).digest('hex')
