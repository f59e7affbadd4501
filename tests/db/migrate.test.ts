import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { migrate, type Migration } from '../../server/db/migrate.ts'
import { APPLICATION_ID, NotebookRefusal, openDb, type Db } from '../../server/db/open.ts'

const SHELF: Migration = { name: '1-shelf', up: 'create table shelf (id integer primary key) strict' }
const SKEIN: Migration = {
  name: '2-skein',
  up: `create table skein (id integer primary key, shelf_id integer not null references shelf (id) on delete cascade) strict;
    insert into shelf (id) values (1); insert into skein (id, shelf_id) values (1, 1), (2, 1)`,
}
/** Rebuilds the parent table, which would empty the child's by its cascade if foreign keys were on. */
const WIDER: Migration = {
  name: '3-wider',
  up: `create table shelf_new (id integer primary key, label text not null default '') strict;
    insert into shelf_new (id) select id from shelf; drop table shelf; alter table shelf_new rename to shelf`,
}

let folder: string
let db: Db
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'fellmark-migrate-'))
  db = openDb(join(folder, 'notebook.db'))
})
afterEach(() => {
  db.close()
  rmSync(folder, { recursive: true, force: true })
})

const tables = () => db.raw.prepare("select name from sqlite_schema where type = 'table' order by 1").pluck().all()
const version = () => db.raw.pragma('user_version', { simple: true })

describe('migrate(raw, options)', () => {
  test('runs the pending steps in order, marks the file as ours and says which it ran', () => {
    expect(migrate(db.raw, { migrations: [SHELF, SKEIN] })).toEqual(['1-shelf', '2-skein'])
    expect(version()).toBe(2)
    expect(db.raw.pragma('application_id', { simple: true })).toBe(APPLICATION_ID)
    expect(migrate(db.raw, { migrations: [SHELF, SKEIN, WIDER] })).toEqual(['3-wider'])
    expect(migrate(db.raw, { migrations: [SHELF, SKEIN, WIDER] })).toEqual([])
  })

  test('rebuilds a parent table without emptying its children, and turns foreign keys on again', () => {
    migrate(db.raw, { migrations: [SHELF, SKEIN, WIDER] })
    expect(db.raw.prepare('select count(*) from skein').pluck().get()).toBe(2)
    expect(db.raw.pragma('foreign_keys', { simple: true })).toBe(1)
  })

  test('leaves nothing of a step that fails half-way, and keeps the steps before it', () => {
    const broken = {
      name: '2-broken',
      up: 'create table dye (id integer) strict; create table dye (id integer) strict',
    }
    expect(() => migrate(db.raw, { migrations: [SHELF, broken] })).toThrow(/already exists/)
    expect(tables()).toEqual(['shelf'])
    expect(version()).toBe(1)
    expect(db.raw.pragma('foreign_keys', { simple: true })).toBe(1)
    expect(migrate(db.raw, { migrations: [SHELF, SKEIN] })).toEqual(['2-skein'])
  })

  test('refuses a step that leaves rows without their parent', () => {
    const orphan = { name: '3-orphan', up: 'delete from shelf' }
    expect(() => migrate(db.raw, { migrations: [SHELF, SKEIN, orphan] })).toThrow(
      'Migration 3-orphan leaves 2 rows without their parent',
    )
    expect(db.raw.prepare('select count(*) from shelf').pluck().get()).toBe(1)
    expect(version()).toBe(2)
  })

  test('refuses a newer notebook with one sentence and changes nothing', () => {
    migrate(db.raw, { migrations: [SHELF, SKEIN] })
    const older = () => migrate(db.raw, { migrations: [SHELF], copyTo: join(folder, 'backups') })
    expect(older).toThrow(NotebookRefusal)
    expect(older).toThrow(/written by a newer Fellmark \(its structure is step 2, this program knows 1\)/)
    expect(version()).toBe(2)
    expect(existsSync(join(folder, 'backups'))).toBe(false)
  })

  test('skips a step that another program did while this one waited for the lock', () => {
    migrate(db.raw, { migrations: [SHELF] })
    const other = new Database(join(folder, 'notebook.db'))
    const migrations = [SHELF, SKEIN]
    let overtaken = false
    migrate(db.raw, {
      migrations,
      // Asked for once the version is read: the moment at which the other program can still be quicker.
      get copyTo() {
        overtaken = migrate(other, { migrations }).length === 1
        return undefined
      },
    })
    other.close()
    expect(overtaken).toBe(true)
    expect(db.raw.prepare('select count(*) from skein').pluck().get()).toBe(2)
    expect(version()).toBe(2)
  })
})

describe('migrate(raw, { copyTo })', () => {
  const copyTo = () => join(folder, 'backups')
  const copies = () => (existsSync(copyTo()) ? readdirSync(copyTo()).sort() : [])

  test('makes no copy of a notebook that is new or has nothing pending', () => {
    migrate(db.raw, { migrations: [SHELF], copyTo: copyTo(), today: '2026-11-24' })
    migrate(db.raw, { migrations: [SHELF], copyTo: copyTo(), today: '2026-11-24' })
    expect(copies()).toEqual([])
  })

  test('copies the whole notebook once before the first pending step', () => {
    migrate(db.raw, { migrations: [SHELF], copyTo: copyTo() })
    db.raw.exec('insert into shelf (id) values (7)')
    migrate(db.raw, { migrations: [SHELF, { ...SKEIN, up: 'select 1' }, WIDER], copyTo: copyTo(), today: '2026-11-24' })
    expect(copies()).toEqual(['before-step-2-2026-11-24.db'])
    const copy = openDb(join(copyTo(), 'before-step-2-2026-11-24.db'))
    expect(copy.raw.prepare('select id from shelf').pluck().all()).toEqual([7])
    expect(copy.raw.pragma('user_version', { simple: true })).toBe(1)
    copy.close()
  })

  test('never overwrites an earlier copy', () => {
    const broken = { name: '2-broken', up: 'nonsense' }
    const options = { migrations: [SHELF, broken], copyTo: copyTo(), today: '2026-11-24' }
    migrate(db.raw, { migrations: [SHELF] })
    expect(() => migrate(db.raw, options)).toThrow()
    const first = readFileSync(join(copyTo(), 'before-step-2-2026-11-24.db'))
    db.raw.exec('insert into shelf (id) values (7)')
    expect(() => migrate(db.raw, options)).toThrow()
    expect(copies()).toEqual(['before-step-2-2026-11-24-2.db', 'before-step-2-2026-11-24.db'])
    expect(readFileSync(join(copyTo(), 'before-step-2-2026-11-24.db')).equals(first)).toBe(true)
  })
})
