import { cpSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { gunzipSync } from 'node:zlib'
import { expect, test } from 'vitest'
import { migrations } from '../../migrations/index.ts'
import { restoreBackup } from '../../server/backup/restore.ts'
import { checkNotebook } from '../../server/check/check.ts'
import { hasDemo } from '../../server/demo/queries.ts'
import { openDb } from '../../server/db/open.ts'
import { makeDataDir, migratedDb, NOW } from '../support/start.ts'

const FIXTURES = new URL('fixtures/', import.meta.url).pathname
const steps = readdirSync(FIXTURES).filter((name) => name.startsWith('step-'))

const schemaOf = (db: ReturnType<typeof openDb>) =>
  db.raw
    .prepare("select type, name, sql from sqlite_schema where name not like 'sqlite\\_%' escape '\\' order by name")
    .all()

test('there is a backup of the present structure; fixtures/make.mjs makes it when a new one lands', () => {
  expect(steps).toContain(`step-${migrations.length}`)
})

test.each(steps)(
  'restoreBackup(%s) puts a backup of that structure into an empty folder, brought up to date',
  async (step) => {
    const folder = join(makeDataDir(), step)
    cpSync(join(FIXTURES, step), folder, { recursive: true })
    writeFileSync(join(folder, 'fellmark.db'), gunzipSync(readFileSync(join(folder, 'fellmark.db.gz'))))
    rmSync(join(folder, 'fellmark.db.gz'))
    const dataDir = makeDataDir()
    const db = openDb(join(dataDir, 'fellmark.db'))
    const { manifest } = await restoreBackup({ db, dataDir, now: () => NOW, folder })
    expect(hasDemo(db)).toBe(true)
    expect(schemaOf(db)).toEqual(schemaOf(migratedDb()))
    for (const table of ['original', 'piece', 'draft', 'claim', 'sitting', 'source'])
      expect(db.raw.prepare(`select count(*) from ${table}`).pluck().get()).toBe(manifest.counts[table])
    expect(readFileSync(join(dataDir, 'photos/00/sample.jpg'), 'utf8')).toMatch(/^Not a picture/)
    // The one file that nothing points at; it has just been laid there, so it is an upload for all that the check knows.
    expect(await checkNotebook(db, dataDir, NOW)).toEqual([])
    db.close()
  },
)
