import { describe, expect, test } from 'vitest'
import type { Db } from '../../server/db/open.ts'
import {
  makeClaim,
  makeDraft,
  makeOriginal,
  makePiece,
  makeRevision,
  makeSitting,
  makeSource,
  makeYarn,
} from '../support/rows.ts'
import { makePhoto } from '../rights/things.ts'
import { migratedDb } from '../support/start.ts'

describe('the index', () => {
  const found = (db: Db, word: string) =>
    db.raw.prepare('select kind || item_id from search where search match ? order by 1').pluck().all(word)
  const check = (db: Db) => db.raw.exec("insert into search (search) values ('integrity-check')")

  test('follows a change and a deletion of each kind', () => {
    const db = migratedDb()
    const original = makeOriginal(db, { name: 'quillwort' })
    const piece = makePiece(db, { name: 'quillwort' })
    const draft = makeDraft(db, { title: 'quillwort' })
    const source = makeSource(db, { title: 'quillwort' })
    expect(found(db, 'quillwort')).toEqual([`draft${draft}`, `original${original}`, `piece${piece}`, `source${source}`])
    db.raw.exec("update original set name = 'sedge'; update piece set name = 'sedge'")
    db.raw.exec("update draft set title = 'sedge'; update source set title = 'sedge'")
    expect(found(db, 'quillwort')).toEqual([])
    expect(found(db, 'sedge')).toHaveLength(4)
    db.raw.exec('delete from original; delete from piece; delete from draft; delete from source')
    expect(db.raw.prepare('select count(*) from search').pluck().get()).toBe(0)
    check(db)
  })

  test('follows a change and a deletion of what belongs to a thing', () => {
    const db = migratedDb()
    const piece_id = makePiece(db)
    makeClaim(db, { piece_id, words: 'quillwort' })
    makeYarn(db, { piece_id, yarn: 'quillwort' })
    makeSitting(db, { piece_id, note: 'quillwort' })
    db.raw.exec(
      "update claim set words = 'sedge'; update piece_yarn set yarn = 'rush'; update sitting set note = 'reed'",
    )
    expect(found(db, 'quillwort')).toEqual([])
    expect(found(db, 'sedge AND rush AND reed')).toEqual([`piece${piece_id}`])
    makePhoto(db, { piece_id, caption: 'bulrush' })
    db.raw.exec("update photo set caption = 'teasel'")
    expect([found(db, 'bulrush'), found(db, 'teasel')]).toEqual([[], [`piece${piece_id}`]])
    db.raw.exec("update photo set deleted_at = '2026-11-24T12:00:00.000Z'")
    expect(found(db, 'teasel')).toEqual([])
    db.raw.exec('update photo set deleted_at = null')
    expect(found(db, 'teasel')).toEqual([`piece${piece_id}`])
    db.raw.exec('delete from photo')
    expect(found(db, 'teasel')).toEqual([])
    db.raw.exec('delete from claim; delete from piece_yarn; delete from sitting')
    expect(found(db, 'sedge OR rush OR reed')).toEqual([])
    check(db)
  })

  test('loses everything that a deletion takes along, and nothing else', () => {
    const db = migratedDb()
    const original = makeOriginal(db, { name: 'gone' })
    makeClaim(db, { original_id: original, words: 'quillwort' })
    const draft = makeDraft(db, { title: 'stays', original_id: original })
    makeRevision(db, { draft_id: draft, note: 'sedge' })
    const piece = makePiece(db, { name: 'gone too' })
    makeSitting(db, { piece_id: piece, note: 'quillwort' })
    db.raw.exec('delete from original; delete from piece')
    expect(found(db, 'quillwort')).toEqual([])
    expect(found(db, 'gone')).toEqual([])
    expect(found(db, 'sedge')).toEqual([`draft${draft}`])
    db.raw.exec('delete from draft')
    expect(db.raw.prepare('select count(*) from search').pluck().get()).toBe(0)
    check(db)
  })
})
