import { execFileSync } from 'node:child_process'
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { describe, expect, test, vi } from 'vitest'
import { noteNewestChange } from '../../server/backup/newest-change.ts'
import { isAtLeast, openNotebook } from '../../server/backup/open-notebook.ts'
import { restoreBackup } from '../../server/backup/restore.ts'
import { NotebookRefusal } from '../../server/db/open.ts'
import { makeJpeg } from '../photo/send.ts'
import { makeSource } from '../support/make.ts'
import { makeDataDir } from '../support/start.ts'
import { addPhoto, askBackup, listKept, makeNotebook, writePhotoFiles } from './notebook.ts'
import { runAdmin, runMain, send, startServer } from '../support/server.ts'

// Some start the whole program several times.
vi.setConfig({ testTimeout: 120_000 })

/** A notebook that was closed, with one backup. */
async function keptNotebook(): Promise<{ dataDir: string; file: string; backup: string }> {
  const notebook = makeNotebook()
  addPhoto(notebook)
  const { name } = await askBackup(notebook)
  notebook.db.close()
  return { dataDir: notebook.dataDir, file: join(notebook.dataDir, 'fellmark.db'), backup: name }
}

const DAMAGE: readonly [string, (file: string) => void][] = [
  ['of length zero', (file) => truncateSync(file, 0)],
  ['cut in half', (file) => truncateSync(file, Math.floor(readFileSync(file).length / 8192) * 4096)],
  ['with a spoilt head', (file) => overwrite(file, 0, Buffer.from('not a database, not at all'))],
  ['with a page of zeros', (file) => overwrite(file, 4096 * 3, Buffer.alloc(4096))],
  ['with one bit turned', (file) => turnBit(file)],
  ['that is a text', (file) => writeFileSync(file, 'Dear diary, today I wove.\n'.repeat(400))],
]

function overwrite(file: string, at: number, bytes: Buffer): void {
  const content = readFileSync(file)
  bytes.copy(content, at)
  writeFileSync(file, content)
}

/** In the pointer to a cell, which is what one bit of a page breaks for certain; in a word of a note nobody could know. */
function turnBit(file: string): void {
  const raw = new Database(file, { readonly: true })
  const page = raw.prepare<[], number>("select rootpage from sqlite_schema where name = 'source'").pluck().get()!
  raw.close()
  const content = readFileSync(file)
  // SQLite file format, 1.6: the head of a leaf is 8 bytes, of an inner page 12; then 2 bytes for each cell.
  const start = (page - 1) * 4096
  const at = start + (content[start] === 0x0d ? 8 : 12)
  content[at] = (content[at] ?? 0) ^ 0x80
  writeFileSync(file, content)
}

const mayMount = (() => {
  const folder = mkdtempSync(join(tmpdir(), 'fellmark-mount-'))
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', 'size=1m', 'tmpfs', folder], { stdio: 'ignore' })
    execFileSync('umount', [folder])
    return true
  } catch {
    return false
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
})()

describe('openNotebook(dataDir, today)', () => {
  test.each(DAMAGE)('refuses a database %s, names the newest good backup and changes no byte', async (_, spoil) => {
    const { dataDir, file, backup } = await keptNotebook()
    spoil(file)
    const before = readFileSync(file)
    expect(() => openNotebook(dataDir, '2026-11-24')).toThrow(NotebookRefusal)
    expect(() => openNotebook(dataDir, '2026-11-24')).toThrow(`npm run admin -- restore ${backup}`)
    expect(readFileSync(file).equals(before)).toBe(true)
  })

  test('refuses a database whose log was deleted, says how much is lost and changes no byte', async () => {
    const notebook = makeNotebook()
    const { name } = await askBackup(notebook)
    noteNewestChange(notebook.db, notebook.dataDir)
    // What an hour of work leaves in the log alone, and a copy of the folder without it.
    makeSource(notebook.db, { title: 'Letter' })
    noteNewestChange(notebook.db, notebook.dataDir)
    const dataDir = makeDataDir()
    cpSync(notebook.dataDir, dataDir, { recursive: true })
    rmSync(join(dataDir, 'fellmark.db-wal'))
    const file = join(dataDir, 'fellmark.db')
    const before = readFileSync(file)
    expect(() => openNotebook(dataDir, '2026-11-24')).toThrow(NotebookRefusal)
    expect(() => openNotebook(dataDir, '2026-11-24')).toThrow(/lacks the newest \d+ changes?: the file fellmark.db-wal/)
    expect(() => openNotebook(dataDir, '2026-11-24')).toThrow(`npm run admin -- restore ${name}`)
    expect(readFileSync(file).equals(before)).toBe(true)
    rmSync(join(dataDir, 'newest-change'))
    openNotebook(dataDir, '2026-11-24').close()
  })

  test('takes a notebook that a restore has put back, whatever was noted of the one before', async () => {
    const notebook = makeNotebook()
    const { folder } = await askBackup(notebook)
    makeSource(notebook.db, { title: 'Letter' })
    noteNewestChange(notebook.db, notebook.dataDir)
    await restoreBackup({ ...notebook, folder })
    notebook.db.close()
    openNotebook(notebook.dataDir, '2026-11-24').close()
  })

  test('does not begin a new notebook beside photographs', () => {
    const dataDir = makeDataDir()
    writePhotoFiles(dataDir, 'ab'.repeat(16))
    expect(() => openNotebook(dataDir, '2026-11-24')).toThrow(/is not there, though there are photographs/)
  })

  test('begins one in an empty folder, and sweeps what a backup left half made', () => {
    const dataDir = makeDataDir()
    mkdirSync(join(dataDir, 'backups/.partial-2026-11-24T120000Z-ab-999999999'), { recursive: true })
    openNotebook(dataDir, '2026-11-24').close()
    expect(listKept(dataDir)).toEqual([])
  })
})

describe('isAtLeast(version, oldest)', () => {
  test.each([
    ['3.51.3', true],
    ['3.53.2', true],
    ['4.0.0', true],
    ['3.51.2', false],
    ['3.40.1', false],
    ['3.51', false],
  ])('%s: %s', (version, expected) => {
    expect(isAtLeast(version, [3, 51, 3])).toBe(expected)
  })
})

describe('the program', () => {
  test('refuses a damaged notebook with a sentence; the command it names puts it right', async () => {
    const { dataDir, file, backup } = await keptNotebook()
    overwrite(file, 0, Buffer.from('spoilt'))
    const { code, said } = await runMain(dataDir)
    expect([code, said]).toEqual([2, expect.stringContaining(`npm run admin -- restore ${backup}`)])
    const restored = await runAdmin(dataDir, 'restore', backup)
    expect([restored.code, restored.said]).toEqual([0, expect.stringContaining('set aside in')])
    expect(await runAdmin(dataDir, 'check')).toMatchObject({ code: 0 })
  })

  test('a second one on the same folder ends with a sentence; commands work beside it; kill -9 leaves no lock', async () => {
    const { dataDir } = await keptNotebook()
    const server = await startServer({ dataDir })
    const { code, said } = await runMain(dataDir)
    expect([code, said]).toEqual([2, expect.stringMatching(/^Another Fellmark is running on the notebook in /)])
    expect(await runAdmin(dataDir, 'check')).toMatchObject({ code: 0 })
    await server.end('SIGKILL')
    const next = await startServer({ dataDir })
    expect(await next.end('SIGTERM')).toBe(0)
  })

  test.skipIf(!mayMount)('on a disk that may only be read ends with a sentence and exit code 2', async () => {
    const dataDir = makeDataDir()
    execFileSync('mount', ['-t', 'tmpfs', '-o', 'size=32m', 'tmpfs', dataDir])
    try {
      const server = await startServer({ dataDir })
      expect((await send(server, '/sources', { title: 'Letter', kind: 'letter' })).status).toBe(303)
      await server.end('SIGTERM')
      execFileSync('mount', ['-o', 'remount,ro', dataDir])
      const { code, said } = await runMain(dataDir)
      expect([code, said]).toEqual([
        2,
        expect.stringMatching(/^\S+ (cannot be opened|may be read but not written)[^\n]*\n$/),
      ])
      execFileSync('mount', ['-o', 'remount,rw', dataDir])
      const again = await startServer({ dataDir })
      expect(await (await fetch(`${again.url}sources`)).text()).toContain('Letter')
      await again.end('SIGTERM')
    } finally {
      execFileSync('umount', [dataDir])
    }
  })

  test('keeps what it stages in its own folder: without a folder for such things a photograph and a backup are kept', async () => {
    const dataDir = makeDataDir()
    const server = await startServer({ dataDir, env: { TMPDIR: join(dataDir, 'nowhere'), SQLITE_TMPDIR: '/nowhere' } })
    await send(server, '/originals', { name: 'Fen band' })
    const form = new FormData()
    form.set('caption', 'Left border')
    form.set('photo', new Blob([new Uint8Array(await makeJpeg())]), 'a.jpg')
    expect((await send(server, '/originals/1/photos', form)).status).toBe(303)
    expect((await send(server, '/keeper/backup')).status).toBe(303)
    const archive = await fetch(`${server.url}export/notebook.zip`)
    const back = new FormData()
    back.set('archive', new Blob([await archive.arrayBuffer()]), 'a.zip')
    expect((await send(server, '/import', back)).status).toBe(200)
    expect(await server.end('SIGTERM')).toBe(0)
  })

  test.skipIf(!mayMount)('on a full disk says so, goes on reading, and works again without a new start', async () => {
    const dataDir = makeDataDir()
    execFileSync('mount', ['-t', 'tmpfs', '-o', 'size=6m', 'tmpfs', dataDir])
    try {
      const server = await startServer({ dataDir })
      const filler = join(dataDir, 'filler')
      const note = 'A long letter about the fret band. '.repeat(1000)
      const write = () => send(server, '/sources', { title: 'Letter', kind: 'letter', notes: note })
      expect((await write()).status).toBe(303)
      try {
        writeFileSync(filler, Buffer.alloc(6 * 1024 * 1024))
      } catch {
        // Until no byte is left.
      }
      let answer = await write()
      for (let tries = 0; answer.status === 303 && tries < 50; tries++) answer = await write()
      expect([answer.status, await answer.text()]).toEqual([507, expect.stringContaining('no room left on the disk')])
      expect((await fetch(`${server.url}sources`)).status).toBe(200)
      expect((await fetch(`${server.url}healthz`)).status).toBe(503)
      const backup = await send(server, '/keeper/backup')
      expect([backup.status, await backup.text()]).toEqual([503, expect.stringContaining('The disk is full.')])
      expect(listKept(dataDir)).toEqual([])
      expect((await runAdmin(dataDir, 'backup')).code).toBe(1)
      execFileSync('mount', ['-o', 'remount,size=64m', dataDir])
      expect((await write()).status).toBe(303)
      expect((await send(server, '/keeper/backup')).status).toBe(303)
      expect((await fetch(`${server.url}healthz`)).status).toBe(200)
      expect(await server.end('SIGTERM')).toBe(0)
      const raw = new Database(join(dataDir, 'fellmark.db'))
      expect(raw.pragma('integrity_check', { simple: true })).toBe('ok')
      raw.close()
    } finally {
      execFileSync('umount', [dataDir])
    }
  })
})
