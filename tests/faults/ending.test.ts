import { connect } from 'node:net'
import { existsSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest'
import { listBackups } from '../../server/backup/list.ts'
import { verifyBackup } from '../../server/backup/verify.ts'
import { runMain, send, startServer } from '../support/server.ts'
import { chanceOf, inFull, sample, sayTallies, SEED, tally } from './seed.ts'
import { readState } from './state.ts'
import { startBehindShim } from './survive.ts'
import { makeTemplates, type Templates } from './template.ts'
import { waitUntil, within10s } from './wait.ts'
import { fileOf } from './writes.ts'

vi.setConfig({ testTimeout: 1_800_000, hookTimeout: 300_000 })

let given: Templates
beforeAll(async () => void (given = await makeTemplates()))
afterAll(sayTallies)

const partialsIn = (dataDir: string) => readdirSync(join(dataDir, 'backups')).filter((name) => name.startsWith('.'))

async function expectBackupsWhole(dataDir: string, where: string): Promise<void> {
  for (const { folder } of listBackups(dataDir))
    expect(await verifyBackup(folder), `${where}, ${folder}`).toMatchObject({ ok: true })
}

/** The calls of an undisturbed backup at which half of it lies there: after its folder is made and before it is named. */
async function listCallsWithHalf(): Promise<number[]> {
  const { shim, server } = await startBehindShim(given.lone)
  const earlier = shim.trace().length
  shim.arm({ mode: 'count' })
  expect((await send(server, '/keeper/backup')).status).toBe(303)
  await server.end('SIGKILL')
  const trace = shim.trace().slice(earlier)
  const [made, named] = [/mkdir backups\/\.partial-[^/]+$/, /rename backups\/[^.]/].map((call) =>
    trace.findIndex((line) => call.test(line)),
  )
  expect(made).toBeGreaterThan(-1)
  expect(named).toBeGreaterThan(made! + 100)
  return trace.flatMap((_, index) => (index > made! && index <= named! ? [index + 1] : []))
}

describe(`a backup, seed ${SEED}, while the program is`, () => {
  let calls: number[]
  beforeAll(async () => void (calls = await listCallsWithHalf()))

  test('killed: no half of one has a name, and the next start sweeps', async () => {
    for (const n of sample(calls, inFull(5, 1), chanceOf('a backup that is killed')))
      await tally('a backup ended by SIGKILL', async () => {
        const where = `call ${n}`
        const { dataDir, shim, server } = await startBehindShim(given.lone)
        shim.arm({ mode: 'kill', at: n })
        await expect(send(server, '/keeper/backup'), where).rejects.toThrow()
        await server.ended
        expect([partialsIn(dataDir).length, listBackups(dataDir).length], where).toEqual([1, 1])
        await expectBackupsWhole(dataDir, where)
        const next = await startServer({ dataDir })
        expect(partialsIn(dataDir), where).toEqual([])
        expect((await fetch(`${next.url}keeper`)).status, where).toBe(200)
        await next.end('SIGKILL')
        expect((await readState(dataDir)).faults, where).toEqual([])
      })
  })

  test('asked to end (SIGTERM): it is made to its end within ten seconds, and the program ends with 0', async () => {
    for (const n of sample(calls, inFull(5, 1), chanceOf('a backup that is ended')))
      await tally('a backup ended by SIGTERM', async () => {
        const where = `call ${n}`
        const { dataDir, shim, server } = await startBehindShim(given.lone)
        shim.arm({ mode: 'term', at: n })
        const answer = await send(server, '/keeper/backup')
        expect([answer.status, await within10s(server)], where).toEqual([303, 0])
        expect([partialsIn(dataDir).length, listBackups(dataDir).length], where).toEqual([0, 2])
        expect((await readState(dataDir)).faults, where).toEqual([])
      })
  })
})

describe('SIGTERM', () => {
  test('in the middle of an upload that does not go on ends the program with 0 and leaves nothing of it', async () => {
    const { dataDir, server } = await startBehindShim(given.lone)
    const { host, hostname, port } = new URL(server.url)
    const socket = connect(Number(port), hostname)
    const head = [
      ...['POST /originals/1/photos HTTP/1.1', `Host: ${host}`, `Origin: http://${host}`],
      ...['Content-Type: multipart/form-data; boundary=xx', 'Content-Length: 4000000'],
    ]
    const part = '--xx\r\nContent-Disposition: form-data; name="photo"; filename="a.jpg"\r\n\r\n'
    socket.on('error', () => undefined)
    socket.write(`${head.join('\r\n')}\r\n\r\n${part}`)
    socket.write(Buffer.alloc(300_000, 0xff))
    const staging = join(dataDir, 'staging')
    await waitUntil('a half upload', () => existsSync(staging) && readdirSync(staging).length > 0)
    void server.end('SIGTERM')
    expect(await within10s(server)).toBe(0)
    socket.destroy()
    expect((await readState(dataDir)).faults).toEqual([])
    expect(existsSync(join(dataDir, 'fellmark.db-wal'))).toBe(false)
  })

  test('lets an upload that goes on come to its end', async () => {
    const { shim, server, dataDir } = await startBehindShim(given.lone)
    shim.arm({ mode: 'term', at: 3 })
    const form = fileOf('photo', given.jpeg, 'a.jpg', { caption: 'Selvedge' })
    const answer = await send(server, '/pieces/1/photos', form)
    expect([answer.status, await within10s(server)]).toEqual([303, 0])
    expect((await readState(dataDir)).faults).toEqual([])
  })
})

describe('a second program on the same folder', () => {
  test('ends with a sentence and not with 0; after kill -9 of the first another starts at once', async () => {
    const { dataDir, server } = await startBehindShim(given.lone)
    const second = await runMain(dataDir)
    expect(second.code).not.toBe(0)
    expect(second.said).toMatch(/^Another Fellmark is running on the notebook in /)
    expect((await fetch(`${server.url}healthz`)).status).toBe(200)
    await server.end('SIGKILL')
    const next = await startServer({ dataDir })
    expect((await send(next, '/sources', { title: 'On it goes', kind: 'book' })).status).toBe(303)
    expect(await next.end('SIGTERM')).toBe(0)
  })
})
