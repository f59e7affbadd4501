import Database from 'better-sqlite3'
import { existsSync, readdirSync, rmSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, describe, expect, test, vi } from 'vitest'
import { migrations } from '../../migrations/index.ts'
import { migrate } from '../../server/db/migrate.ts'
import { openDb } from '../../server/db/open.ts'
import { startServer } from '../support/server.ts'
import { makeDataDir } from '../support/start.ts'
import { copyFolder, layLax, layStrict, listInodes, storeAll } from './disk.ts'
import { chanceOf, inFull, numbers, sample, sayTallies, SEED, tally } from './seed.ts'
import { layShim } from './shim.ts'
import { readState } from './state.ts'

vi.setConfig({ testTimeout: 1_800_000, hookTimeout: 300_000 })
afterAll(sayTallies)

const TITLES = numbers(40).map((n) => `Letter ${n} of the old structure`)

/** A notebook of the first structure, with something in it. */
function makeOld(): string {
  const dataDir = makeDataDir()
  const db = openDb(join(dataDir, 'fellmark.db'))
  migrate(db.raw, { migrations: migrations.slice(0, 1) })
  const insert = db.raw.prepare(`insert into source (title, people, year, kind, container, pages, doi, isbn, url, notes,
    created_at, updated_at) values (?, '', '', 'letter', '', '', '', '', '', '', '', '')`)
  db.write(() => TITLES.forEach((title) => insert.run(title)))
  db.close()
  return dataDir
}

/** Starts the program on the old notebook; the shim falls upon the start itself. */
async function startOn(old: string, mode: { mode: 'count' } | { mode: 'kill'; at: number }) {
  const dataDir = makeDataDir()
  copyFolder(old, dataDir)
  const shim = layShim(dataDir)
  storeAll(dataDir, shim.store)
  shim.arm(mode)
  const root = statSync(dataDir).ino
  const server = await startServer({ dataDir, env: shim.env }).catch(() => undefined)
  await server?.end('SIGKILL')
  return { dataDir, shim, root, hasStarted: server !== undefined }
}

/** Brought to the newest structure with all that was in it, by a start without faults. */
async function expectWhole(dataDir: string, where: string): Promise<void> {
  expect((await readState(dataDir)).faults, where).toEqual([])
  const raw = new Database(join(dataDir, 'fellmark.db'), { readonly: true })
  expect(raw.pragma('user_version', { simple: true }), where).toBe(migrations.length)
  expect(raw.prepare<[], string>('select title from source order by id').pluck().all(), where).toEqual(TITLES)
  raw.close()
}

/** The copy before a new structure is whole, or will be made again. */
function expectCopyWhole(dataDir: string, where: string): void {
  const folder = join(dataDir, 'backups')
  const copies = existsSync(folder) ? readdirSync(folder).filter((name) => name.endsWith('.db')) : []
  const whole = copies.filter((name) => {
    const raw = new Database(join(folder, name), { readonly: true })
    try {
      return raw.prepare('select count(*) from source').pluck().get() === TITLES.length
    } catch {
      return false
    } finally {
      raw.close()
    }
  })
  expect(whole.length, `${where}, a whole copy`).toBeGreaterThan(0)
}

describe(`the start on a notebook of an older structure, seed ${SEED}`, () => {
  test('killed in the middle of any call, or without power, is made good by the next start', async () => {
    const old = makeOld()
    const trial = await startOn(old, { mode: 'count' })
    expect(trial.hasStarted).toBe(true)
    await expectWhole(trial.dataDir, 'undisturbed')
    expectCopyWhole(trial.dataDir, 'undisturbed')
    for (const n of sample(numbers(trial.shim.count()), inFull(15, 2), chanceOf('a migration')))
      await tally('kill -9 in a migration', async () => {
        const { dataDir, shim, root } = await startOn(old, { mode: 'kill', at: n })
        const where = `call ${n}, ${trial.shim.trace()[n - 1]}`
        const [strict, lax] = [join(makeDataDir(), 'strict'), join(makeDataDir(), 'lax')]
        layStrict(shim.store, root, strict)
        layLax(shim.store, listInodes(dataDir), lax)
        for (const folder of [dataDir, strict, lax]) {
          await expectWhole(folder, where)
          expectCopyWhole(folder, where)
          rmSync(folder, { recursive: true, force: true })
        }
      })
    const server = await startServer({ dataDir: trial.dataDir })
    expect((await fetch(`${server.url}sources`)).status).toBe(200)
    await server.end('SIGTERM')
    process.stdout.write(`faults: a start with ${migrations.length - 1} new steps makes ${trial.shim.count()} calls\n`)
    expect(trial.shim.count()).toBeGreaterThan(50)
  })
})
