import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Express } from 'express'
import request, { type Test } from 'supertest'
import { createApp } from '../../server/app.ts'
import { migrate } from '../../server/db/migrate.ts'
import { openDb, type Db } from '../../server/db/open.ts'
import { createPages, type Page } from '../../server/pages.ts'
import { letProgramAct, type Viewer } from '../../server/rights/viewer.ts'
import { migrations } from '../../migrations/index.ts'
import { opened } from './opened.ts'

/** The fixed clock and zone of the tests. */
export const NOW = new Date('2026-11-24T12:00:00Z')
export const ZONE = 'Europe/Berlin'

export interface Started {
  readonly db: Db
  readonly app: Express
  /** A folder of its own, gone after the tests of the file. */
  readonly dataDir: string
  /** What broke: a test that does not expect it looks here. */
  readonly broken: unknown[]
  get(path: string): Test
  /** A form sent from our own page: with the Origin that a browser would send. */
  post(path: string, fields?: Record<string, string | string[]>): Test
}

// Tests write and look at rows outside of a request.
letProgramAct()

const pages = new Map<string, Page>()

/** The templates below this path, parsed once. */
export function pagesBelow(base: string): Page {
  let page = pages.get(base)
  if (!page) pages.set(base, (page = createPages(base)))
  return page
}

let structure: Buffer | undefined

/** A database of today's structure with nothing in it. The steps are run once; every further one is a copy of the first. */
export const migratedDb = (file?: string): Db => databaseOf((structure ??= writeStructure()), file)

/** A database with this content, in memory or in a new file; closed after the tests of the test file. */
export function databaseOf(content: Buffer, file?: string): Db {
  if (file !== undefined) writeFileSync(file, content)
  const db = openDb(file ?? content)
  opened.push(() => db.close())
  return db
}

function writeStructure(): Buffer {
  const db = openDb(':memory:')
  migrate(db.raw, { migrations })
  const content = db.raw.serialize()
  db.close()
  return content
}

/** An empty folder for what a notebook keeps beside its database; it goes when the tests of the file are through. */
export function makeDataDir(): string {
  const folder = mkdtempSync(join(tmpdir(), 'fellmark-test-'))
  opened.push(() => rmSync(folder, { recursive: true, force: true }))
  return folder
}

/**
 * The program on a migrated in-memory database.
 * @param viewer who asks; the lone maker if not said, while there are no members
 * @param now the clock of the machine, where it has to go on
 */
export function startApp(db = migratedDb(), dataDir = makeDataDir(), viewer?: Viewer, now = () => NOW): Started {
  const broken: unknown[] = []
  const app = createApp({
    db,
    dataDir,
    isLoopback: true,
    page: pagesBelow(''),
    now,
    zone: ZONE,
    viewerOf: viewer && (() => viewer),
    onBroken: (error) => void broken.push(error),
  })
  return {
    db,
    app,
    dataDir,
    broken,
    get: (path) => request(app).get(path).set('Host', 'localhost:4180'),
    post: (path, fields = {}) =>
      request(app)
        .post(path)
        .set('Host', 'localhost:4180')
        .set('Origin', 'http://localhost:4180')
        .type('form')
        .send(fields),
  }
}
