import Database from 'better-sqlite3'
import { rmSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest'
import { send } from '../support/server.ts'
import { isFull, randomOf, sayTallies, SEED, tally } from './seed.ts'
import type { ErrorName, Fault } from './shim.ts'
import { countFiles, dumpRows, readState } from './state.ts'
import { startBehindShim, type Stage } from './survive.ts'
import { makeTemplates, type Templates } from './template.ts'
import { isTaken, WRITES, type Write } from './writes.ts'

vi.setConfig({ testTimeout: 900_000, hookTimeout: 120_000 })

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

/**
 * Lets the n-th call of a write fail, for n from 1 until it runs through: SQLite tests itself in this way.
 * @param stride how far from one n to the next
 */
async function failEach(
  write: Write,
  how: Omit<Fault & { mode: 'fail' }, 'mode' | 'at'>,
  first: number,
  stride: number,
) {
  let stage = await startBehindShim(given[write.on])
  const what = `${how.error} ${how.sticky ? 'from a call on' : 'at a call'}`
  for (let n = first; ; n += stride) {
    const { dataDir, shim, server } = stage
    const where = `${write.name}, ${what}, call ${n}`
    const prepared = (await write.prepare?.(server, given)) ?? ''
    const before = { rows: rowsOf(dataDir), files: countFiles(dataDir) }
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
      if (!isTaken(answer)) {
        const text = (await answer.text()).replace(/^[^]*<main[^>]*>|<[^>]+>/g, '')
        expectReadable(answer, text, how.error, where)
        if (!NOT_FLUSHED.test(text)) expect(rowsOf(dataDir), where).toBe(before.rows)
        // What could not be taken away stays until it is swept, and so do files whose rows may come back.
        const mayStay = (how.sticky && how.error === 'EIO') || /fellmark\.db/.test(shim.trace()[earlier + n - 1] ?? '')
        if (!mayStay) expect(countFiles(dataDir), where).toEqual(before.files)
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

const random = randomOf(SEED)
const HOW = (['ENOSPC', 'EIO'] as const).flatMap((error) => [false, true].map((sticky) => ({ error, sticky })))

describe(`the program, seed ${SEED}, on a disk that fails at`, () => {
  test.each(WRITES)(
    '$name: says so, keeps nothing of it, reads on, and works again without a new start',
    async (write) => {
      for (const how of isFull ? HOW : [HOW[Math.floor(random() * HOW.length)]!]) {
        const stride = isFull ? 1 : 7
        await failEach(write, how, 1 + Math.floor(random() * stride), stride)
      }
    },
  )
})

describe('a write whose flush fails, and the program that is killed then', () => {
  // The log may hold the whole of it, and the next start finds it there.
  const rows = WRITES.filter(({ name }) => name === 'a photograph' || name === 'an archive that is brought in')
  test.each(rows)('$name: has its files, or is not there', async (write) => {
    const trial = await startBehindShim(given[write.on])
    const sent = async ({ server }: Stage) => (await write.prepare?.(server, given)) ?? ''
    const prepared = await sent(trial)
    const earlier = trial.shim.trace().length
    trial.shim.arm({ mode: 'count' })
    await write.send(trial.server, given, prepared)
    const flushes = trial.shim
      .trace()
      .slice(earlier)
      .flatMap((call, index) => (/f(data)?sync fellmark\.db-wal/.test(call) ? [index + 1] : []))
    await close(trial, write.name)
    expect(flushes.length).toBeGreaterThan(0)
    const stage = await startBehindShim(given[write.on])
    const again = await sent(stage)
    stage.shim.arm({ mode: 'fail', at: flushes[0]!, error: 'EIO', sticky: false })
    expect((await write.send(stage.server, given, again)).status).toBe(503)
    await close(stage, write.name)
  })
})
