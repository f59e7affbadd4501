import { describe, expect, test } from 'vitest'
import { hasDemo, removeDemo } from '../../server/demo/queries.ts'
import type { Db } from '../../server/db/open.ts'
import { loadDemo } from '../../seeds-demo/load.ts'
import {
  makeClaim,
  makeDraft,
  makeOriginal,
  makePiece,
  makeRevision,
  makeSitting,
  makeSource,
} from '../support/rows.ts'
import { demoDb } from '../support/demo.ts'
import { migratedDb, NOW } from '../support/start.ts'
import { dump } from './dump.ts'

const LOADED = new Date('2026-11-20T08:00:00Z')

/** A notebook with one thing of each kind of the maker's own. */
function ownNotebook(): Db {
  const db = migratedDb()
  const original_id = makeOriginal(db, { name: 'My own band' })
  makeClaim(db, { original_id, source_id: makeSource(db, { title: 'My own source' }) })
  const draft_id = makeDraft(db, { title: 'My own draft', original_id })
  const piece_id = makePiece(db, { original_id, draft_revision_id: makeRevision(db, { draft_id }) })
  makeSitting(db, { piece_id })
  return db
}

const id = (db: Db, query: string) => Number(db.raw.prepare(query).pluck().get())
const left = (db: Db, table: string) => id(db, `select count(*) from ${table}`)
const sorted = (names: readonly { kind: string; name: string }[]) =>
  names.map(({ kind, name }) => `${kind} ${name}`).sort()

describe('removeDemo(db)', () => {
  test.each([
    ['an empty notebook', () => migratedDb()],
    ['a notebook with own work', ownNotebook],
  ])('after loadDemo(db, now) leaves %s as it was, down to the last row', (_what, make) => {
    const db = make()
    const before = dump(db)
    loadDemo(db, LOADED)
    expect(hasDemo(db)).toBe(true)
    expect(dump(db)).not.toEqual(before)
    expect(removeDemo(db)).toEqual([])
    expect(dump(db)).toEqual(before)
    expect(hasDemo(db)).toBe(false)
    db.raw.exec("insert into search (search) values ('integrity-check')")
  })

  test('keeps the draft that an own piece is woven from, and the original of that draft with what it rests on', () => {
    const db = demoDb(LOADED)
    const draft = db.raw
      .prepare<[], { id: number; title: string; original: number; name: string; revision: number }>(
        `select d.id, d.title, o.id as original, o.name, r.id as revision from draft d join original o on o.id = d.original_id
          join draft_revision r on r.draft_id = d.id limit 1`,
      )
      .get()!
    const claims = left(db, `claim where original_id = ${draft.original}`)
    const cited = id(db, `select count(distinct source_id) from claim where original_id = ${draft.original}`)
    makePiece(db, { name: 'Mine', draft_revision_id: draft.revision })
    const kept = sorted(removeDemo(db))
    expect(kept).toContain(`draft ${draft.title}`)
    expect(kept).toContain(`original ${draft.name}`)
    expect(kept).toHaveLength(2 + cited)
    expect(left(db, 'piece')).toBe(1)
    expect(left(db, 'draft')).toBe(1)
    expect(left(db, 'original')).toBe(1)
    expect(left(db, 'claim')).toBe(claims)
    expect(hasDemo(db)).toBe(false)
  })

  test('keeps the original that an own piece is of', () => {
    const db = demoDb(LOADED)
    const original = id(db, 'select min(id) from original')
    makePiece(db, { original_id: original })
    expect(removeDemo(db).map(({ kind }) => kind)).toContain('original')
    expect(id(db, 'select id from original')).toBe(original)
    expect(left(db, 'draft')).toBe(0)
  })

  test('keeps a source that an own claim cites, and nothing else', () => {
    const db = migratedDb()
    const original_id = makeOriginal(db, { name: 'My own band' })
    loadDemo(db, LOADED)
    const source = id(db, 'select min(id) from source')
    makeClaim(db, { original_id, source_id: source })
    expect(removeDemo(db).map((kept) => [kept.kind, kept.id])).toEqual([['source', source]])
    expect(left(db, 'original')).toBe(1)
    expect(left(db, 'claim')).toBe(1)
  })

  test.each([
    ['a sitting added to it', (db: Db, piece_id: number) => makeSitting(db, { piece_id })],
    ['a claim added to it', (db: Db, piece_id: number) => makeClaim(db, { piece_id, feature: 'thickness' })],
    [
      'a sitting of it changed',
      (db: Db, piece_id: number) =>
        db.raw.prepare('update sitting set updated_at = ? where piece_id = ?').run(NOW.toISOString(), piece_id),
    ],
    [
      'its own words changed',
      (db: Db, piece_id: number) =>
        db.raw.prepare('update piece set updated_at = ? where id = ?').run(NOW.toISOString(), piece_id),
    ],
  ])('keeps a piece of the collection with %s', (_what, touch) => {
    const db = demoDb(LOADED)
    const piece = id(db, 'select piece_id from sitting limit 1')
    const sittings = left(db, `sitting where piece_id = ${piece}`)
    touch(db, piece)
    expect(removeDemo(db).find(({ kind }) => kind === 'piece')?.id).toBe(piece)
    expect(left(db, 'piece')).toBe(1)
    expect(left(db, 'sitting')).toBeGreaterThanOrEqual(sittings)
    expect(hasDemo(db)).toBe(false)
  })

  test('says of each thing why it stays', () => {
    const db = demoDb(LOADED)
    const piece = id(db, 'select id from piece where draft_revision_id is not null and original_id is not null limit 1')
    makeSitting(db, { piece_id: piece })
    db.raw.prepare('update piece set updated_at = ? where id = ?').run(NOW.toISOString(), piece)
    const staying = removeDemo(db)
    const reasons = (kind: string) => staying.find((each) => each.kind === kind)?.because
    const byPiece = { kind: 'piece', id: piece, name: staying[0]?.name }
    expect(reasons('piece')).toEqual([
      { words: 'you have changed it' },
      { words: 'you have added or changed sittings of it' },
    ])
    expect(reasons('draft')).toEqual([{ ...byPiece, does: 'is woven from it' }])
    expect(reasons('original')).toContainEqual({ ...byPiece, does: 'follows it' })
    expect(reasons('source')).toContainEqual(
      expect.objectContaining({ kind: 'original', does: 'has claims that cite it' }),
    )
  })

  test('keeps an original with a claim added to it', () => {
    const db = demoDb(LOADED)
    const original = id(db, 'select min(id) from original')
    makeClaim(db, { original_id: original, feature: 'endsPerCm', part: 'mine' })
    expect(removeDemo(db).find(({ kind }) => kind === 'original')?.id).toBe(original)
    expect(left(db, 'original')).toBe(1)
  })

  test('in a notebook without the collection does nothing', () => {
    const db = ownNotebook()
    const before = dump(db)
    expect(removeDemo(db)).toEqual([])
    expect(dump(db)).toEqual(before)
  })
})
