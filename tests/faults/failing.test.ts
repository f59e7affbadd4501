import Database from 'better-sqlite3'
import { rmSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest'
import { send } from '../support/server.ts'
import { chanceOf, inFull, sample, sayTallies, SEED, tally } from './seed.ts'
import type { ErrorName } from './shim.ts'
import { countFiles, dumpRows, readState } from './state.ts'
import { startBehindShim, type Stage } from './survive.ts'
import { makeTemplates, type Templates } from './template.ts'
import { isTaken, WRITES, type Write } from './writes.ts'

vi.setConfig({ testTimeout: 1_800_000, hookTimeout: 300_000 })

let given: Templates
beforeAll(async () => void (given = await makeTemplates()))
afterAll(sayTallies)

/** The rows as the program has them now, beside it. */
function rowsOf(dataDir: string): string {
  const raw = new Database(join(dataDir, 'fellmark.db'), { readonly: true })
  try {
    return dumpRows({ raw })
  } finally {
    raw.close()
  }
}

const SENTENCES: Readonly<Record<ErrorName, RegExp>> = {
  // Of a full disk that shows itself only at a flush or an opening SQLite says no more than that it failed.
  ENOSPC: /There is no room left on the disk|The disk is full|[Tt]he disk refused|cannot be written to/,
  EIO: /[Tt]he disk refused|cannot be written to/,
}
/** What a restore says whose content is there, but not for good. */
const NOT_FLUSHED = /in the place of what was there, but the disk refused/

/** A page that a person can read, and that says what is wrong. */
function expectReadable(answer: Response, text: string, error: ErrorName, where: string): void {
  expect([answer.status, answer.headers.get('content-type')], `${where}: ${text}`).toEqual([
    expect.toSatisfy((status: number) => status === (NOT_FLUSHED.test(text) ? 409 : 503) || status === 507),
    'text/html; charset=utf-8',
  ])
  expect(text, where).toMatch(SENTENCES[error])
}

/** Reads go on while the disk refuses, and afterwards it is written to again by the same program. */
async function expectWorksAgain({ server, shim }: Stage, cookie: string, where: string): Promise<void> {
  const headers = { cookie }
  expect((await fetch(`${server.url}sources`, { headers })).status, `${where}, reading`).toBe(200)
  shim.arm({ mode: 'off' })
  expect((await send(server, '/sources', { title: 'Probe', kind: 'book' }, headers)).status, `${where}, after`).toBe(
    303,
  )
}

const cookieOf = (write: Write) => (write.on === 'guild' ? given.cookie : '')

/** A restore that fails keeps the copy that it made before. */
function filesOf({ name }: Write, dataDir: string) {
  const { backups, ...others } = countFiles(dataDir)
  return name === 'a restore' ? others : { ...others, backups }
}

const prepare = async (write: Write, { server }: Stage) => (await write.prepare?.(server, given)) ?? ''

/**
 * Lets the n-th call of a write fail, for n from `first` until it runs through: SQLite tests itself in this way.
 * @param stride how far from one n to the next
 */
async function failEach(
  write: Write,
  how: { readonly error: ErrorName; readonly sticky: boolean },
  first: number,
  stride: number,
) {
  let stage = await startBehindShim(given[write.on])
  const what = `${how.error} ${how.sticky ? 'from a call on' : 'at a call'}`
  for (let n = first; ; n += stride) {
    const { dataDir, shim, server } = stage
    const where = `${write.name}, ${what}, call ${n}`
    const prepared = await prepare(write, stage)
    const before = { rows: rowsOf(dataDir), files: filesOf(write, dataDir) }
    const earlier = shim.trace().length
    shim.arm({ mode: 'fail', at: n, ...how })
    const answer = await write.send(server, given, prepared)
    const isHit = shim.fired() > 0
    if (!isHit && n > shim.count()) {
      expect(isTaken(answer), where).toBe(true)
      await close(stage, where)
      return
    }
    await tally(what, async () => {
      const call = shim.trace()[earlier + n - 1] ?? ''
      if (!isTaken(answer)) {
        const text = (await answer.text()).replace(/^[^]*<main[^>]*>|<[^>]+>/g, '')
        expectReadable(answer, text, how.error, `${where}, ${call}`)
        if (!NOT_FLUSHED.test(text)) expect(rowsOf(dataDir), `${where}, ${call}`).toBe(before.rows)
        // What could not be taken away stays until it is swept, and so do files whose rows may come back.
        const mayStay = (how.sticky && how.error === 'EIO') || / fellmark\.db/.test(call)
        if (!mayStay) expect(filesOf(write, dataDir), `${where}, ${call}`).toEqual(before.files)
      }
      await expectWorksAgain(stage, cookieOf(write), where)
    })
    // Safety copies of one restore after the other would make it slower and slower.
    if (isTaken(answer) || n % 40 === 0) {
      await close(stage, where)
      stage = await startBehindShim(given[write.on])
    }
  }
}

/** After all that, a crash: what is there is whole. */
async function close({ server, dataDir }: Stage, where: string): Promise<void> {
  await server.end('SIGKILL')
  expect((await readState(dataDir)).faults, where).toEqual([])
  rmSync(dataDir, { recursive: true, force: true })
}

const HOW = (['ENOSPC', 'EIO'] as const).flatMap((error) => [false, true].map((sticky) => ({ error, sticky })))

describe(`the program, seed ${SEED}, on a disk that fails at`, () => {
  const chosen = sample(WRITES, inFull(WRITES.length, 3), chanceOf('failing'))
  test.each(chosen)(
    '$name: says so, keeps nothing of it, reads on, and works again without a new start',
    async (write) => {
      const chance = chanceOf(`failing ${write.name}`)
      const stride = write.isLong ? inFull(23, 97) : inFull(4, 9)
      for (const how of sample(HOW, inFull(2, 1), chance))
        await failEach(write, how, 1 + Math.floor(chance() * stride), stride)
    },
  )
})

const writeOf = (name: string) => WRITES.find((write) => write.name === name)!

/** Lets the first call that has this in it fail. */
async function failAt(write: Write, first: string, sticky: boolean): Promise<{ stage: Stage; answer: Response }> {
  const stage = await startBehindShim(given[write.on])
  const prepared = await prepare(write, stage)
  stage.shim.arm({ mode: 'fail', first, error: 'EIO', sticky })
  const answer = await write.send(stage.server, given, prepared)
  expect(stage.shim.fired(), `${write.name} calls ${first}`).toBeGreaterThan(0)
  return { stage, answer }
}

describe('a write whose flush fails, and the program that is killed then', () => {
  // The log may hold the whole of it, and the next start finds it there.
  test.each(['a photograph', 'an archive that is brought in'])('%s: has its files, or is not there', async (name) => {
    const { stage, answer } = await failAt(writeOf(name), 'sync fellmark.db-wal', false)
    expect(answer.status).toBe(503)
    await close(stage, name)
  })
})

describe('a disk that fails beside what was asked for', () => {
  test('an archive that was brought in and whose staged files stay: it is said to be there', async () => {
    const { stage, answer } = await failAt(writeOf('an archive that is brought in'), 'rmdir staging/import-', true)
    expect(answer.status).toBe(200)
    expect(countFiles(stage.dataDir).staged).toBeGreaterThan(0)
    await close(stage, 'staged files')
  })

  test('an archive that cannot be written nor taken away: a sentence, and the program goes on', async () => {
    const { stage, answer } = await failAt(writeOf('an archive that is sent'), 'write staging/import-', true)
    expect(answer.status).toBe(503)
    await expectWorksAgain(stage, '', 'the archive')
    await close(stage, 'the archive')
  })

  test('a backup that is made and cannot be noted: it is said to be there', async () => {
    const { stage, answer } = await failAt(writeOf('a backup'), 'write fellmark.db-wal', true)
    expect([answer.status, countFiles(stage.dataDir).backups]).toEqual([303, 2])
    await expectWorksAgain(stage, '', 'the note')
    await close(stage, 'the note')
  })

  test('a backup whose name cannot be flushed: none is said to be made, and none is there', async () => {
    const { stage, answer } = await failAt(writeOf('a backup'), 'fsync backups\n', false)
    expect([answer.status, countFiles(stage.dataDir).backups]).toEqual([503, 1])
    await expectWorksAgain(stage, '', 'the name')
    await close(stage, 'the name')
  })
})
