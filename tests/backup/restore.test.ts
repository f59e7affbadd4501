import { copyFileSync, readFileSync, rmSync, truncateSync, writeFileSync, existsSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { describe, expect, test } from 'vitest'
import { asViewer } from '../../server/rights/viewer.ts'
import { listChanges } from '../../server/history/queries.ts'
import { makePeople } from '../support/people.ts'
import { NOW } from '../support/start.ts'
import { restoreBackup } from '../../server/backup/restore.ts'
import { verifyBackup } from '../../server/backup/verify.ts'
import { addPhoto, askBackup, dump, listKept, makeNotebook, type Notebook } from './notebook.ts'

const restore = (notebook: Notebook, folder: string) => restoreBackup({ ...notebook, folder })

describe('restoreBackup(options)', () => {
  test('puts back what was there, on the connection that is open, and keeps a safety copy', async () => {
    const notebook = makeNotebook()
    const photos = addPhoto(notebook)
    const { folder } = await askBackup(notebook)
    const before = dump(notebook.db)
    notebook.db.raw.exec("delete from piece; update source set title = 'Something else'; delete from photo")
    const after = dump(notebook.db)
    for (const photo of photos) rmSync(join(notebook.dataDir, photo))

    const { safety } = await restore(notebook, folder)
    expect(dump(notebook.db)).toBe(before)
    for (const photo of photos) expect(readFileSync(join(notebook.dataDir, photo), 'utf8')).toBe(`content of ${photo}`)
    expect(notebook.db.raw.pragma('integrity_check', { simple: true })).toBe('ok')
    expect(notebook.db.raw.pragma('journal_mode', { simple: true })).toBe('wal')
    expect(notebook.db.raw.pragma('synchronous', { simple: true })).toBe(2)

    await restore(notebook, safety!.folder)
    expect(dump(notebook.db)).toBe(after)
    notebook.db.close()
  })

  test('keeps the list of backups, which is about the disk, and ends what was signed in then', async () => {
    const notebook = makeNotebook()
    notebook.db.raw
      .exec(`insert into member (name, sign_in_name, password_hash, role, created_at) values ('A', 'a', '', 'keeper', '');
      insert into session (token_hash, member_id, created_at, seen_at, expires_at, agent) values ('t', 1, '', '', '', '')`)
    const { folder } = await askBackup(notebook)
    await restore(notebook, folder)
    expect(notebook.db.raw.prepare('select count(*) from session').pluck().get()).toBe(0)
    expect(notebook.db.raw.prepare('select file from backup_run order by id').pluck().all()).toEqual([
      '2026-11-24T120000Z',
      '2026-11-24T120000Z-2',
    ])
    notebook.db.close()
  })

  test('stands in the log of changes with who did it, and stays there when the next one takes the log back', async () => {
    const notebook = makeNotebook()
    const people = makePeople(notebook.db)
    const { folder } = await askBackup(notebook)
    const { safety } = await asViewer(people.keeper, () => restore(notebook, folder))
    const noted = () => listChanges(notebook.db, 'piece', 1).filter(({ kind }) => kind === 'notebook')
    const then = NOW.toISOString()
    const first = { fields: { restored: [safety!.name, then], by: ['', 'Orla'] } }
    expect(noted()).toMatchObject([first])
    const again = await restore({ ...notebook, now: () => new Date('2026-11-25T12:00:00Z') }, folder)
    const second = { fields: { restored: [again.safety!.name, then], by: ['', ''] } }
    expect(noted()).toMatchObject([second, first])
    notebook.db.close()
  })

  test('what is written after it is kept, and found again at the next opening', async () => {
    const notebook = makeNotebook()
    const { folder } = await askBackup(notebook)
    await restore(notebook, folder)
    notebook.db.raw.exec("update source set title = 'After' where id = 1")
    notebook.db.close()
    const again = new Database(join(notebook.dataDir, 'fellmark.db'))
    expect(again.prepare('select title from source where id = 1').pluck().get()).toBe('After')
    again.close()
  })

  test('another connection that has the notebook open sees the restored one', async () => {
    const notebook = makeNotebook()
    const { folder } = await askBackup(notebook)
    const other = new Database(join(notebook.dataDir, 'fellmark.db'))
    const ask = other.prepare<[], number>('select count(*) from source').pluck()
    notebook.db.raw.exec('delete from piece; delete from claim; delete from source')
    expect(ask.get()).toBe(0)
    await restore(notebook, folder)
    expect(ask.get()).toBe(9)
    other.close()
    notebook.db.close()
  })

  test('while another program holds the notebook nothing is replaced', async () => {
    const notebook = makeNotebook()
    const { folder } = await askBackup(notebook)
    notebook.db.raw.exec("update source set title = 'Now'")
    const before = dump(notebook.db)
    const other = new Database(join(notebook.dataDir, 'fellmark.db'))
    other.exec('begin immediate')
    await expect(restore(notebook, folder)).rejects.toThrow()
    other.exec('rollback')
    other.close()
    expect(dump(notebook.db)).toBe(before)
    expect(listKept(notebook.dataDir).filter((name) => name.startsWith('.'))).toEqual([])
    notebook.db.close()
  })
})

const FAULTS: readonly [string, RegExp, (folder: string, photo: string) => void][] = [
  [
    'a database cut short',
    /fellmark\.db is not what it was/,
    (folder) => truncateSync(join(folder, 'fellmark.db'), 8192),
  ],
  ['an empty database', /fellmark\.db is not what it was/, (folder) => truncateSync(join(folder, 'fellmark.db'), 0)],
  [
    'one byte of the database changed',
    /fellmark\.db is not what it was/,
    (folder) => {
      const content = readFileSync(join(folder, 'fellmark.db'))
      content[content.length - 200]! ^= 1
      writeFileSync(join(folder, 'fellmark.db'), content)
    },
  ],
  ['a photograph missing', /-original is missing/, (folder, photo) => rmSync(join(folder, photo))],
  [
    'a photograph changed',
    /-original is not what it was/,
    (folder, photo) => {
      rmSync(join(folder, photo))
      writeFileSync(join(folder, photo), 'something else')
    },
  ],
  [
    'a file too many',
    /photos\/more\.jpg is not on its list/,
    (folder) => writeFileSync(join(folder, 'photos/more.jpg'), ''),
  ],
  ['no list', /not a backup of ours/, (folder) => rmSync(join(folder, 'manifest.json'))],
  ['a list that is none', /not a backup of ours/, (folder) => writeFileSync(join(folder, 'manifest.json'), '{}')],
  [
    'a list that leads out of the folder',
    /not a backup of ours/,
    (folder) => edit(folder, '"fellmark.db"', '"../fellmark.db"'),
  ],
  ['a newer structure', /newer Fellmark/, (folder) => edit(folder, /"step": \d+/, '"step": 999')],
  ['other counts than listed', /something else than its list/, (folder) => edit(folder, '"source": 9', '"source": 8')],
]

function edit(folder: string, from: string | RegExp, to: string): void {
  const file = join(folder, 'manifest.json')
  writeFileSync(file, readFileSync(file, 'utf8').replace(from, to))
}

describe('restoreBackup(options) of a backup with', () => {
  test.each(FAULTS)('%s changes nothing, and says why', async (_, sentence, spoil) => {
    const notebook = makeNotebook()
    const photos = addPhoto(notebook)
    const { folder } = await askBackup(notebook)
    notebook.db.raw.exec("update source set title = 'Now'")
    const before = dump(notebook.db)
    const kept = listKept(notebook.dataDir)
    spoil(folder, photos.at(-1)!)
    await expect(restore(notebook, folder)).rejects.toThrow(sentence)
    expect(dump(notebook.db)).toBe(before)
    expect(listKept(notebook.dataDir)).toEqual(kept)
    for (const photo of photos) expect(existsSync(join(notebook.dataDir, photo))).toBe(true)
    notebook.db.close()
  })
})

describe('verifyBackup(folder)', () => {
  test('refuses a database that is not ours, though its list fits', async () => {
    const notebook = makeNotebook()
    const { folder } = await askBackup(notebook)
    const file = join(folder, 'fellmark.db')
    const raw = new Database(file)
    raw.pragma('application_id = 7')
    raw.close()
    const { createHash } = await import('node:crypto')
    edit(folder, /"sha256": "\w+"/, `"sha256": "${createHash('sha256').update(readFileSync(file)).digest('hex')}"`)
    expect(await verifyBackup(folder)).toEqual({ ok: false, problems: ['Its database is not one of Fellmark.'] })
    notebook.db.close()
  })

  test('changes no byte of the folder, and leaves nothing beside its files', async () => {
    const notebook = makeNotebook()
    const { folder } = await askBackup(notebook)
    copyFileSync(join(folder, 'fellmark.db'), join(notebook.dataDir, 'before'))
    await verifyBackup(folder)
    expect(readFileSync(join(folder, 'fellmark.db')).equals(readFileSync(join(notebook.dataDir, 'before')))).toBe(true)
    expect(existsSync(join(folder, 'fellmark.db-shm'))).toBe(false)
    notebook.db.close()
  })
})
