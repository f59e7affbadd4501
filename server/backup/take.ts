import { randomBytes } from 'node:crypto'
import { existsSync } from 'node:fs'
import { mkdir, open, rename, rm, stat } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import Database from 'better-sqlite3'
import type { Db } from '../db/open.ts'
import { checkCopy, type CopyFacts } from './copy-check.ts'
import { flush, flushFolders, hashFile, listFilesBelow, placeAgain } from './disk.ts'
import type { BackupReason, Manifest } from './manifest.ts'
import { backupName, DATABASE, MANIFEST, partialName, PHOTOS } from './place.ts'

export interface TakeOptions {
  readonly db: Db
  readonly dataDir: string
  readonly now: () => Date
  readonly reason: BackupReason
  /** The folder that backups are put into. */
  readonly to: string
  /** Pages of 4 KiB copied before others get a turn. A command has nobody to wait for it, and takes all at once. */
  readonly pagesAtOnce?: number
}

export interface TakenBackup {
  readonly name: string
  readonly folder: string
  readonly manifest: Manifest
}

const PAGES_AT_ONCE = 1000
export const ALL_PAGES = 0x7fffffff

/**
 * Copies the notebook while it is in use, looks at the copy, and only then gives it its name: whatever breaks before
 * leaves nothing behind. Photographs come after the database, so that every row of the copy finds its files; and before it
 * too, for one that somebody takes away meanwhile may still have its row in the copy.
 */
export async function takeBackup(options: TakeOptions): Promise<TakenBackup> {
  const { db, dataDir, now, reason, to, pagesAtOnce = PAGES_AT_ONCE } = options
  const at = now()
  await mkdir(to, { recursive: true })
  const partial = join(to, partialName(`${backupName(at)}-${randomBytes(4).toString('hex')}`))
  await mkdir(partial)
  try {
    await copyPhotos(dataDir, partial)
    const facts = await copyDatabase(db, join(partial, DATABASE), pagesAtOnce)
    await copyPhotos(dataDir, partial)
    const files = await describeFiles(partial)
    const sqlite = db.raw.prepare<[], string>('select sqlite_version()').pluck().get()!
    const manifest: Manifest = {
      ...{ format: 'fellmark-backup', formatVersion: 1, at: at.toISOString(), reason, sqlite },
      ...{ step: facts.step, counts: facts.counts, files },
    }
    await writeFlushed(join(partial, MANIFEST), `${JSON.stringify(manifest, null, 2)}\n`)
    await flushFolders(partial)
    const name = freeName(to, backupName(at))
    await giveName(partial, join(to, name))
    return { name, folder: join(to, name), manifest }
  } catch (error) {
    // What cannot be taken away either is swept at the next start; what was wrong first is what is told.
    await rm(partial, { recursive: true, force: true }).catch(() => undefined)
    throw error
  }
}

/** A name that is not flushed may be gone after a power cut, so it is taken back: none was made then. */
async function giveName(partial: string, named: string): Promise<void> {
  await rename(partial, named)
  try {
    await flush(dirname(named))
  } catch (error) {
    await rename(named, partial).catch(() => undefined)
    throw error
  }
}

async function copyDatabase(db: Db, path: string, pagesAtOnce: number): Promise<CopyFacts> {
  await db.raw.backup(path, { progress: () => pagesAtOnce })
  // The copy comes with the log mode of the notebook; one file alone is easier to keep and to carry.
  const copy = new Database(path)
  try {
    copy.pragma('journal_mode = delete')
  } finally {
    copy.close()
  }
  const facts = checkCopy(path)
  await flush(path)
  return facts
}

async function copyPhotos(dataDir: string, partial: string): Promise<void> {
  const from = join(dataDir, PHOTOS)
  // What is taken away while we walk was there in the first walk, or is not missed by the copy either.
  for (const path of await listFilesBelow(from)) await placeAgain(join(from, path), join(partial, PHOTOS, path))
}

async function describeFiles(partial: string): Promise<Manifest['files']> {
  const files: Manifest['files'] = []
  for (const path of await listFilesBelow(partial)) {
    const full = join(partial, path)
    files.push({ path, bytes: (await stat(full)).size, sha256: await hashFile(full) })
  }
  return files
}

async function writeFlushed(path: string, text: string): Promise<void> {
  const handle = await open(path, 'wx')
  try {
    await handle.writeFile(text)
    await handle.sync()
  } finally {
    await handle.close()
  }
}

/** Two backups within a second are two. */
function freeName(to: string, wanted: string): string {
  let name = wanted
  for (let again = 2; existsSync(join(to, name)); again++) name = `${wanted}-${again}`
  return name
}
