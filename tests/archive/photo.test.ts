import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { bringIn } from '../../server/archive/bring-in.ts'
import { gather } from '../../server/archive/gather.ts'
import { unpackArchive } from '../../server/archive/unpack.ts'
import { listNamesOf, photosFolder } from '../../server/photo/place.ts'
import { MEMBER_BYTES } from '../../server/photo/quota.ts'
import { asViewer } from '../../server/rights/viewer.ts'
import { makePhoto } from '../rights/things.ts'
import { makePeople } from '../support/people.ts'
import { makeOriginal } from '../support/rows.ts'
import { makeDataDir, migratedDb } from '../support/start.ts'
import { exportTo, sha256, withPhotos } from './archive-file.ts'
import { arbitraryNotebook } from './generate.ts'

const [NOTEBOOK] = fc.sample(
  arbitraryNotebook.filter(
    ({ records }) => records.photo.length > 1 && records.photo.every((each) => each.deletedAt === null),
  ),
  { numRuns: 1, seed: 7 },
)
const rowsOf = (db: ReturnType<typeof migratedDb>) =>
  db.raw
    .prepare<
      [],
      { file: string; width: number; height: number; sha256: string; bytes: number; original_bytes: number }
    >('select * from photo')
    .all()

describe('photographs of an archive', () => {
  test('lie where their rows say, with their hashes and sizes', () => {
    const [db, dataDir] = [migratedDb(), makeDataDir()]
    bringIn(db, withPhotos(NOTEBOOK!), new Map(), dataDir)
    for (const row of rowsOf(db)) {
      const files = listNamesOf(row).map((name) => readFileSync(join(photosFolder(dataDir), name)))
      expect(sha256(files.at(-1)!)).toBe(row.sha256)
      expect(files.at(-1)!.length).toBe(row.original_bytes)
      expect(files.slice(0, -1).reduce((sum, file) => sum + file.length, 0)).toBe(row.bytes)
    }
  })

  test('go out without the file as it was sent to whoever is not the owner, and come in with the largest size for it', async () => {
    const [db, dataDir] = [migratedDb(), makeDataDir()]
    bringIn(db, withPhotos(NOTEBOOK!), new Map(), dataDir)
    for (const table of ['original', 'piece'])
      db.raw.exec(`update ${table} set visibility = 'members', deleted_at = null`)
    const guest = { kind: 'member', id: 5, name: 'Bo', role: 'member' } as const
    expect(asViewer(guest, () => gather(db, { kind: 'notebook' })).photos.some((photo) => photo.withOriginal)).toBe(
      false,
    )
    const unpacked = await unpackArchive(await asViewer(guest, () => exportTo(db, dataDir)), makeDataDir())
    expect(unpacked.photos.size).toBe(NOTEBOOK!.records.photo.length)
    for (const files of unpacked.photos.values()) expect(Object.keys(files)).not.toContain('original')
    const [other, there] = [migratedDb(), makeDataDir()]
    bringIn(other, unpacked, new Map(), there)
    for (const row of rowsOf(other)) {
      const names = listNamesOf(row).map((name) => join(photosFolder(there), name))
      expect(readFileSync(names.at(-1)!)).toEqual(readFileSync(names.at(-2)!))
      expect(sha256(readFileSync(names.at(-1)!))).toBe(row.sha256)
    }
  })

  test('are refused, all or nothing, where they are more than an owner has room for', async () => {
    const [from, there] = [migratedDb(), makeDataDir()]
    bringIn(from, withPhotos(NOTEBOOK!), new Map(), there)
    const file = await exportTo(from, there)
    const [db, dataDir] = [migratedDb(), makeDataDir()]
    const full = makeOriginal(db, { name: 'full' })
    makePhoto(db, { original_id: full, original_bytes: MEMBER_BYTES - 10 })
    const runa = makePeople(db).owner
    db.raw.prepare('update original set owner_id = ?').run(runa.id)
    const unpacked = await unpackArchive(file, makeDataDir())
    const bring = () => asViewer(runa, () => bringIn(db, unpacked, new Map(), dataDir))
    expect(bring).toThrow('Nothing was brought in: with the photographs of this archive there are too many.')
    expect(rowsOf(db)).toHaveLength(1)
    expect(
      readdirSync(photosFolder(dataDir), { recursive: true }).filter((name) => String(name).includes('.')),
    ).toEqual([])
    db.raw.exec('update photo set original_bytes = 1')
    expect(bring().counts.new).toBeGreaterThan(0)
  })

  test('go back to where they were when the import fails, so that it can be tried again', () => {
    const [db, dataDir] = [migratedDb(), makeDataDir()]
    const made = withPhotos(NOTEBOOK!)
    db.raw.exec(
      "create temp trigger full before insert on photo when (select count(*) from photo) = 1 begin select raise(abort, 'disk full'); end",
    )
    expect(() => bringIn(db, made, new Map(), dataDir)).toThrow('disk full')
    expect(db.raw.prepare('select (select count(*) from original) + (select count(*) from piece)').pluck().get()).toBe(
      0,
    )
    const left = readdirSync(photosFolder(dataDir), { recursive: true, withFileTypes: true })
    expect(left.filter((entry) => entry.isFile())).toEqual([])
    for (const files of made.photos.values())
      for (const { path } of Object.values(files)) expect(existsSync(path)).toBe(true)
    db.raw.exec('drop trigger temp.full')
    bringIn(db, made, new Map(), dataDir)
    expect(rowsOf(db).length).toBe(made.photos.size)
  })

  test('without their files are left out, and that is said', () => {
    const db = migratedDb()
    const { counts, remarks } = bringIn(db, { ...withPhotos(NOTEBOOK!), photos: new Map() }, new Map(), makeDataDir())
    expect(rowsOf(db)).toEqual([])
    expect(counts.left).toBe(NOTEBOOK!.records.photo.length)
    expect(remarks).toHaveLength(counts.left)
  })
})
