import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { describe, expect, test, vi } from 'vitest'
import { listBackups } from '../../server/backup/list.ts'
import { verifyBackup } from '../../server/backup/verify.ts'
import { makeDataDir } from '../support/start.ts'
import { addPhoto, dump, makeNotebook } from './notebook.ts'
import { runAdmin, send, startServer } from '../support/server.ts'
import { keepWriting } from './writing.ts'

/** Titles of the sources in a database that no server of ours has open. */
function titlesIn(file: string): Set<string> {
  const raw = new Database(file, { readonly: true })
  try {
    expect(raw.pragma('integrity_check', { simple: true })).toBe('ok')
    return new Set(raw.prepare<[], string>('select title from source').pluck().all())
  } finally {
    raw.close()
  }
}

const lacking = (titles: readonly string[], held: Set<string>) => titles.filter((title) => !held.has(title))

// Each starts the whole program several times.
vi.setConfig({ testTimeout: 120_000 })

describe('a running notebook that is written to', () => {
  test('is backed up by the button and by the command: all that was acknowledged before is in it', async () => {
    const dataDir = makeDataDir()
    const notebook = makeNotebook(dataDir)
    const photos = addPhoto(notebook)
    notebook.db.close()
    const server = await startServer({ dataDir })
    const writing = keepWriting(server)
    const until = async (count: number) => {
      while (writing.acknowledged.length < count) await new Promise((resolve) => setTimeout(resolve, 5))
    }
    await until(10)
    const beforeButton = [...writing.acknowledged]
    const answer = await send(server, '/keeper/backup')
    expect([answer.status, answer.headers.get('location')]).toEqual([303, '/keeper?done=backed-up'])
    await until(beforeButton.length + 10)
    const beforeCommand = [...writing.acknowledged]
    const { code, said } = await runAdmin(dataDir, 'backup')
    expect([code, said]).toEqual([0, expect.stringContaining('Made and looked over')])
    await writing.stop()

    const [byCommand, byButton] = listBackups(dataDir)
    for (const backup of [byCommand!, byButton!]) {
      expect(await verifyBackup(backup.folder)).toMatchObject({ ok: true })
      expect(readdirSync(join(backup.folder, 'photos'), { recursive: true })).toHaveLength(2 + photos.length)
    }
    expect(lacking(beforeButton, titlesIn(join(byButton!.folder, 'fellmark.db')))).toEqual([])
    expect(lacking(beforeCommand, titlesIn(join(byCommand!.folder, 'fellmark.db')))).toEqual([])
    expect(await server.end('SIGTERM')).toBe(0)
    expect(lacking(writing.acknowledged, titlesIn(join(dataDir, 'fellmark.db')))).toEqual([])
  })

  test('is restored by the button and by the command, without a new start', async () => {
    const dataDir = makeDataDir()
    const notebook = makeNotebook(dataDir)
    const before = dump(notebook.db)
    notebook.db.close()
    const server = await startServer({ dataDir })
    await send(server, '/keeper/backup')
    const { name } = listBackups(dataDir)[0]!
    const has = async (title: string) => (await (await fetch(`${server.url}sources`)).text()).includes(title)

    await send(server, '/sources', { title: 'Written after the backup', kind: 'book' })
    expect(await has('Written after the backup')).toBe(true)
    const answer = await send(server, `/keeper/restore/${name}`)
    expect([answer.status, answer.headers.get('location')]).toEqual([303, '/keeper?done=backup-restored'])
    expect(await has('Written after the backup')).toBe(false)

    await send(server, '/sources', { title: 'Written after the first restore', kind: 'book' })
    expect(await runAdmin(dataDir, 'restore', name)).toMatchObject({ code: 0 })
    expect(await has('Written after the first restore')).toBe(false)
    expect((await send(server, '/sources', { title: 'And on it goes', kind: 'book' })).status).toBe(303)
    expect(await has('And on it goes')).toBe(true)
    expect(await server.end('SIGTERM')).toBe(0)

    expect(await runAdmin(dataDir, 'restore', name)).toMatchObject({ code: 0 })
    const raw = new Database(join(dataDir, 'fellmark.db'), { readonly: true })
    expect(dump({ ...notebook.db, raw })).toBe(before)
    raw.close()
  })
})

describe('npm run admin -- restore', () => {
  test('puts a notebook with its photographs into an empty folder, and the program starts on it', async () => {
    const notebook = makeNotebook()
    addPhoto(notebook)
    const before = dump(notebook.db)
    notebook.db.close()
    const stick = makeDataDir()
    expect(await runAdmin(notebook.dataDir, 'backup', '--to', stick)).toMatchObject({ code: 0 })
    const dataDir = join(makeDataDir(), 'new')
    const folder = join(stick, readdirSync(stick)[0]!)
    expect(await runAdmin(dataDir, 'restore', folder)).toMatchObject({ code: 0 })
    const raw = new Database(join(dataDir, 'fellmark.db'))
    expect(dump({ ...notebook.db, raw })).toBe(before)
    raw.close()
    expect(await runAdmin(dataDir, 'check')).toMatchObject({ code: 0 })
    const server = await startServer({ dataDir })
    expect((await fetch(`${server.url}healthz`)).status).toBe(200)
    await server.end('SIGTERM')
  })

  test('of what is no backup says so with exit code 1, and leaves no new notebook behind', async () => {
    const dataDir = makeDataDir()
    const { code, said } = await runAdmin(dataDir, 'restore', makeDataDir())
    expect([code, said]).toEqual([1, expect.stringContaining('not a backup of ours')])
    expect(readdirSync(dataDir)).toEqual([])
    expect(await runAdmin(dataDir, 'restore', '2026-01-01T000000Z')).toMatchObject({ code: 2 })
  })
})

describe('a program that is killed while it writes', () => {
  test('20 times over has lost nothing that it acknowledged, and starts at once', async () => {
    const dataDir = makeDataDir()
    const acknowledged: string[] = []
    for (let round = 0; round < 20; round++) {
      const server = await startServer({ dataDir })
      const writing = keepWriting(server, `${round}`)
      while (writing.acknowledged.length < 3 + (round % 5)) await new Promise((resolve) => setTimeout(resolve, 1))
      expect(await server.end('SIGKILL')).toBeNull()
      await writing.stop()
      acknowledged.push(...writing.acknowledged)
    }
    expect(acknowledged.length).toBeGreaterThanOrEqual(60)
    expect(lacking(acknowledged, titlesIn(join(dataDir, 'fellmark.db')))).toEqual([])
  }, 300_000)
})
