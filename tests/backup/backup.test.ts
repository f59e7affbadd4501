import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { describe, expect, test } from 'vitest'
import { migrations } from '../../migrations/index.ts'
import { listBackups } from '../../server/backup/list.ts'
import { runBackup } from '../../server/backup/run.ts'
import { listRuns } from '../../server/backup/runs.ts'
import { sweepPartials } from '../../server/backup/sweep.ts'
import { sweepOrphans } from '../../server/photo/check.ts'
import { verifyBackup } from '../../server/backup/verify.ts'
import { makeDataDir } from '../support/start.ts'
import { addPhoto, askBackup, dump, listKept, makeNotebook, writePhotoFiles } from './notebook.ts'

describe('runBackup(options)', () => {
  test('puts the whole notebook with its photographs into one folder, named by its instant', async () => {
    const notebook = makeNotebook()
    const photos = addPhoto(notebook)
    const { name, folder, manifest } = await askBackup(notebook)
    expect(name).toBe('2026-11-24T120000Z')
    expect(readdirSync(folder).sort()).toEqual(['fellmark.db', 'manifest.json', 'photos'])
    expect(manifest.files.map(({ path }) => path)).toEqual(['fellmark.db', ...photos].sort())
    for (const photo of photos)
      expect(readFileSync(join(folder, photo))).toEqual(readFileSync(join(notebook.dataDir, photo)))
    expect(manifest).toMatchObject({ step: migrations.length, counts: { original: 5, photo: 1 } })
    const copy = new Database(join(folder, 'fellmark.db'), { readonly: true })
    expect(dump({ ...notebook.db, raw: copy })).toBe(dump(notebook.db))
    copy.close()
    expect(await verifyBackup(folder)).toMatchObject({ ok: true })
    notebook.db.close()
  })

  test('is written down, and its list is what the notebook knows of the disk', async () => {
    const notebook = makeNotebook()
    const { name, manifest } = await askBackup(notebook)
    const [run] = listRuns(notebook.db, 1)
    expect(run).toEqual({ at: manifest.at, file: name, bytes: manifest.files[0]!.bytes, ok: 1, message: '' })
    expect(listBackups(notebook.dataDir)).toMatchObject([{ name, reason: 'asked', photos: 0 }])
    notebook.db.close()
  })

  test('two within a second are two; two at once are refused', async () => {
    const notebook = makeNotebook()
    const first = askBackup(notebook)
    await expect(askBackup(notebook)).rejects.toThrow(/being made/)
    await first
    await askBackup(notebook)
    expect(listKept(notebook.dataDir)).toEqual(['2026-11-24T120000Z', '2026-11-24T120000Z-2'])
    notebook.db.close()
  })

  test('holds what is written while it is made, or not, but never half of it', async () => {
    const notebook = makeNotebook()
    const under = runBackup({ ...notebook, reason: 'asked', pagesAtOnce: 5 })
    let written = 0
    const writer = setInterval(() => {
      notebook.db.raw.exec("update source set notes = notes || 'x'")
      written += 1
    }, 1)
    const { folder } = await under
    clearInterval(writer)
    expect(written).toBeGreaterThan(0)
    const copy = new Database(join(folder, 'fellmark.db'), { readonly: true })
    const tails = copy.prepare<[], number>("select distinct length(notes) - length(rtrim(notes, 'x')) from source")
    expect(tails.pluck().all()).toHaveLength(1)
    copy.close()
    notebook.db.close()
  })

  test('goes to another folder, and is written down with its whole path', async () => {
    const notebook = makeNotebook()
    const elsewhere = join(makeDataDir(), 'stick')
    const { folder } = await askBackup(notebook, elsewhere)
    expect(existsSync(join(elsewhere, '2026-11-24T120000Z', 'manifest.json'))).toBe(true)
    expect(listRuns(notebook.db, 1)[0]!.file).toBe(folder)
    expect(listKept(notebook.dataDir)).toEqual([])
    notebook.db.close()
  })

  test('that fails leaves nothing half made, and is written down with its reason', async () => {
    const notebook = makeNotebook()
    const file = join(makeDataDir(), 'a-file')
    writeFileSync(file, '')
    await expect(askBackup(notebook, join(file, 'below'))).rejects.toThrow()
    expect(listRuns(notebook.db, 1)[0]).toMatchObject({ ok: 0, bytes: 0, message: expect.stringMatching(/./) })
    notebook.db.close()
  })

  test('of a damaged notebook is refused, and leaves nothing', async () => {
    const notebook = makeNotebook()
    const { raw } = notebook.db
    raw.unsafeMode(true)
    raw.pragma('writable_schema = on')
    raw.exec("update sqlite_schema set rootpage = 3 where name = 'source'")
    raw.pragma('writable_schema = off')
    await expect(askBackup(notebook)).rejects.toThrow(/damaged/)
    expect(listKept(notebook.dataDir)).toEqual([])
    notebook.db.close()
  })

  test('has the files of a photograph that is purged and swept away while it is made', async () => {
    const notebook = makeNotebook()
    const { db, dataDir } = notebook
    const photos = addPhoto(notebook)
    let isSwept = false
    const under = askBackup(notebook)
    const look = () => {
      const [partial = ''] = listKept(dataDir)
      const copy = join(dataDir, 'backups', partial, 'fellmark.db')
      // Byte 18 tells that the copy has left the log mode of the notebook: it is through, and has the row.
      if (!existsSync(copy) || readFileSync(copy)[18] !== 1) return void setImmediate(look)
      db.raw.exec('delete from photo')
      isSwept = sweepOrphans(db, dataDir, new Date('9999-01-01')).length === photos.length
    }
    look()
    const { folder, manifest } = await under
    expect(isSwept).toBe(true)
    expect(manifest.counts.photo).toBe(1)
    expect(manifest.files.map(({ path }) => path)).toEqual(expect.arrayContaining(photos))
    expect(await verifyBackup(folder)).toMatchObject({ ok: true })
    db.close()
  })

  test('does not copy a photograph a second time on the same disk', async () => {
    const notebook = makeNotebook()
    const [photo] = addPhoto(notebook)
    await askBackup(notebook)
    expect(statSync(join(notebook.dataDir, photo!)).nlink).toBe(2)
    notebook.db.close()
  })
})

describe('sweepPartials(dataDir)', () => {
  test('takes away what a process that is gone left, and nothing else', async () => {
    const notebook = makeNotebook()
    await askBackup(notebook)
    writePhotoFiles(join(notebook.dataDir, 'backups', '.partial-2026-11-24T120001Z-ab-999999999'), 'ab'.repeat(16))
    const alive = `.partial-2026-11-24T120002Z-ab-${process.ppid}`
    mkdirSync(join(notebook.dataDir, 'backups', alive))
    expect(sweepPartials(notebook.dataDir)).toHaveLength(1)
    expect(listKept(notebook.dataDir)).toEqual([alive, '2026-11-24T120000Z'])
    notebook.db.close()
  })
})
