import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { LOG_BYTES, NotebookRefusal, openDb, type Db } from '../../server/db/open.ts'
import { makeSource } from '../support/make.ts'
import { migratedDb } from '../support/start.ts'

let folder: string
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'fellmark-open-'))
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

const pragmas = ({ raw }: Db) => ({
  journalMode: raw.pragma('journal_mode', { simple: true }),
  synchronous: raw.pragma('synchronous', { simple: true }),
  foreignKeys: raw.pragma('foreign_keys', { simple: true }),
  busyTimeout: raw.pragma('busy_timeout', { simple: true }),
})

describe('openDb(file)', () => {
  const SAFE = { journalMode: 'wal', synchronous: 2, foreignKeys: 1, busyTimeout: 1000 }

  test('sets every pragma on a fresh file', () => {
    const db = openDb(join(folder, 'fresh.db'))
    expect(pragmas(db)).toEqual(SAFE)
    db.close()
  })

  test('sets every pragma on a reopened file, also after the migrations', () => {
    const file = join(folder, 'again.db')
    migratedDb(file).close()
    const db = openDb(file)
    expect(pragmas(db)).toEqual(SAFE)
    db.close()
    const migrated = migratedDb(file)
    expect(pragmas(migrated)).toEqual(SAFE)
    migrated.close()
  })

  test('gives back the room that the log took while somebody read for long', () => {
    const file = join(folder, 'long.db')
    const log = () => statSync(`${file}-wal`).size
    const [db, reader] = [migratedDb(file), openDb(file)]
    reader.raw.exec('begin')
    const count = () => reader.raw.prepare('select count(*) from source').pluck().get()
    const before = count()
    for (let at = 0; at < 24; at++) makeSource(db, { title: `Letter ${at}`, notes: 'x'.repeat(1024 ** 2) })
    expect(log()).toBeGreaterThan(LOG_BYTES)
    expect(count()).toBe(before)
    reader.raw.exec('commit')
    reader.close()
    // The first write checkpoints the log, the next begins it anew and cuts it.
    for (let at = 0; at < 3; at++) makeSource(db, { title: `After ${at}` })
    expect(log()).toBeLessThanOrEqual(LOG_BYTES)
  })

  test('refuses the SQLite file of another program and changes no byte of it', () => {
    const file = join(folder, 'other.db')
    new Database(file).exec('create table birds (id integer)').close()
    const before = readFileSync(file)
    expect(() => openDb(file)).toThrow(NotebookRefusal)
    expect(() => openDb(file)).toThrow(/is a SQLite database, but not a Fellmark notebook; nothing was changed\.$/)
    expect(readFileSync(file).equals(before)).toBe(true)
  })

  test('refuses a file that is no database and changes no byte of it', () => {
    const file = join(folder, 'letter.db')
    writeFileSync(file, 'Dear colleague, '.repeat(200))
    expect(() => openDb(file)).toThrow(/is not a database, so it cannot be a Fellmark notebook/)
    expect(readFileSync(file, 'utf8')).toBe('Dear colleague, '.repeat(200))
  })
})

describe('db.write(work)', () => {
  const titles = (db: Db) => db.raw.prepare('select label from feature order by label').pluck().all()
  const insert = (db: Db, key: string) =>
    db.run(db.sql.insertInto('feature').values({ key, label: key, quantity: 'text', created_at: '' }))

  test('keeps nothing of work that throws half-way', () => {
    const db = migratedDb()
    const work = () =>
      db.write(() => {
        insert(db, 'fringe')
        throw new Error('out of yarn')
      })
    expect(work).toThrow('out of yarn')
    expect(titles(db)).toEqual([])
    expect(db.raw.inTransaction).toBe(false)
  })

  test('joins the write it stands in, and falls with it', () => {
    const db = migratedDb()
    const work = () =>
      db.write(() => {
        db.write(() => insert(db, 'fringe'))
        throw new Error('out of yarn')
      })
    expect(work).toThrow('out of yarn')
    expect(titles(db)).toEqual([])
  })

  test('returns what the work returned', () => {
    const db = migratedDb()
    expect(db.write(() => insert(db, 'fringe').changes)).toBe(1)
    expect(titles(db)).toEqual(['fringe'])
  })
})
