import { connect } from 'node:net'
import { existsSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest'
import { listBackups } from '../../server/backup/list.ts'
import { verifyBackup } from '../../server/backup/verify.ts'
import { runMain, send, startServer, type Running } from '../support/server.ts'
import { numbers, randomOf, sample, sayTallies, SEED, tally } from './seed.ts'
import { readState } from './state.ts'
import { startBehindShim } from './survive.ts'
import { makeTemplates, type Templates } from './template.ts'

vi.setConfig({ testTimeout: 900_000, hookTimeout: 120_000 })

let given: Templates
beforeAll(async () => void (given = await makeTemplates()))
afterAll(sayTallies)

/** @throws when it has not ended within ten seconds, which is what systems wait before they kill */
const within10s = ({ ended }: Pick<Running, 'ended'>): Promise<number | null> =>
  Promise.race([
    ended,
    new Promise<never>((_, reject) =>
      setTimeout(() => reject(new Error('It has not ended within ten seconds')), 10_000).unref(),
    ),
  ])

const partialsIn = (dataDir: string) =>
  existsSync(join(dataDir, 'backups'))
    ? readdirSync(join(dataDir, 'backups')).filter((name) => name.startsWith('.'))
    : []

async function expectBackupsWhole(dataDir: string, where: string): Promise<void> {
  for (const { folder } of listBackups(dataDir))
    expect(await verifyBackup(folder), `${where}, ${folder}`).toMatchObject({ ok: true })
}

describe(`a backup, seed ${SEED}, while the program is`, () => {
  test.each(['kill', 'term'] as const)(
    'ended (%s): no half of one has a name, and the next start sweeps',
    async (mode) => {
      const trial = await startBehindShim(given.lone)
      trial.shim.arm({ mode: 'count' })
      expect((await send(trial.server, '/keeper/backup')).status).toBe(303)
      const calls = trial.shim.count()
      await trial.server.end('SIGTERM')
      let leftHalf = 0
      for (const n of sample(numbers(calls), 3, randomOf(SEED)))
        await tally(`a backup ended by ${mode}`, async () => {
          const where = `call ${n}`
          const { dataDir, shim, server } = await startBehindShim(given.lone)
          shim.arm({ mode, at: n })
          const answer = await send(server, '/keeper/backup').catch(() => undefined)
          if (mode === 'kill') await server.ended
          else expect(await within10s(server), where).toBe(0)
          await expectBackupsWhole(dataDir, where)
          const half = partialsIn(dataDir).length
          leftHalf += half
          if (answer?.status === 303) expect(listBackups(dataDir), where).toHaveLength(2)
          const next = await startServer({ dataDir })
          expect(partialsIn(dataDir), where).toEqual([])
          expect((await fetch(`${next.url}keeper`)).status, where).toBe(200)
          await next.end('SIGKILL')
          expect((await readState(dataDir)).faults, where).toEqual([])
        })
      if (mode === 'kill') expect(leftHalf).toBeGreaterThan(0)
    },
  )
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
    const staged = () => existsSync(join(dataDir, 'staging')) && readdirSync(join(dataDir, 'staging')).length > 0
    while (!staged()) await new Promise((resolve) => setTimeout(resolve, 10))
    void server.end('SIGTERM')
    expect(await within10s(server)).toBe(0)
    expect((await readState(dataDir)).faults).toEqual([])
    expect(existsSync(join(dataDir, 'fellmark.db-wal'))).toBe(false)
  })

  test('lets an upload that goes on come to its end', async () => {
    const { shim, server, dataDir } = await startBehindShim(given.lone)
    shim.arm({ mode: 'term', at: 3 })
    const form = new FormData()
    form.set('photo', new Blob([new Uint8Array(given.jpeg), 'another']), 'a.jpg')
    const answer = await send(server, '/originals/1/photos', form)
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
