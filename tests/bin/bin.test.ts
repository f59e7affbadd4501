import { describe, expect, test } from 'vitest'
import { purgeBefore } from '../../server/bin/queries.ts'
import { scheduleBin } from '../../server/bin/schedule.ts'
import { makeClaim, makeOriginal, makeSource } from '../support/make.ts'
import { makePiece, makeSitting } from '../support/make-piece.ts'
import { NOW, startApp } from '../support/start.ts'

describe('what is deleted', () => {
  test('goes to the bin, is nowhere else, and comes back by the Undo beside the notice', async () => {
    const { db, get, post } = startApp()
    const source = makeSource(db, { title: 'Bands of the Fen' })
    const answer = await post(`/sources/${source}/delete`)
    expect(answer.headers.location).toBe(`/sources?undo=source-${source}&done=deleted`)
    const list = await get(answer.headers.location as string)
    expect(list.text).toContain(`action="/bin/source/${source}/restore"`)
    expect(list.text).not.toContain('Bands of the Fen')
    expect((await get(`/sources/${source}`)).status).toBe(404)
    expect((await get('/search?q=Fen')).text).not.toContain('Bands of the <mark>Fen</mark>')
    expect((await get('/bin')).text).toContain('Bands of the Fen')
    const restored = await post(`/bin/source/${source}/restore`)
    expect(restored.headers.location).toBe(`/sources/${source}?done=restored`)
    expect((await get(`/sources/${source}`)).status).toBe(200)
    expect((await get('/bin')).text).toContain('Nothing lies in the bin')
  })

  test('as a piece comes back with its sittings and claims, and its original if that was thrown away too', async () => {
    const { db, get, post } = startApp()
    const originalId = makeOriginal(db, { name: 'Fen band' })
    const piece = makePiece(db, { name: 'Replica', originalId })
    makeSitting(db, piece, { note: 'a good evening' })
    makeClaim(db, { pieceId: piece }, { value: '20' })
    await post(`/pieces/${piece}/delete`)
    await post(`/originals/${originalId}/delete`)
    expect((await get('/bin')).text.match(/Take it out again/g)).toHaveLength(2)
    await post(`/bin/piece/${piece}/restore`)
    const { text } = await get(`/pieces/${piece}`)
    expect(text).toContain('a good evening')
    expect(text).toContain('20 mm')
    expect((await get(`/originals/${originalId}`)).status).toBe(200)
  })

  test('as a sitting is out of the hours and the pace, and back in them', async () => {
    const { db, get, post } = startApp()
    const piece = makePiece(db)
    const sitting = makeSitting(db, piece, { note: 'a good evening' })
    const deleted = await post(`/sittings/${sitting}/delete`)
    expect(deleted.headers.location).toBe(`/pieces/${piece}?undo=sitting-${sitting}&done=deleted#sittings`)
    expect((await get(`/pieces/${piece}`)).text).not.toContain('a good evening')
    expect((await get('/search?q=evening')).text).not.toContain(`/pieces/${piece}"`)
    await post(`/bin/sitting/${sitting}/restore`)
    expect((await get(`/pieces/${piece}`)).text).toContain('a good evening')
  })

  test.each(['/bin/source/9/restore', '/bin/pot/1/restore', '/bin/source/x/purge'])('%s is not there', async (path) => {
    expect((await startApp().post(path)).status).toBe(404)
  })

  test('of what is not in the bin nothing is purged', async () => {
    const { db, post } = startApp()
    const source = makeSource(db)
    expect((await post(`/bin/source/${source}/purge`)).status).toBe(404)
    expect(db.all(db.sql.selectFrom('source').select('id'))).toHaveLength(1)
  })

  test('is gone for good by its own button', async () => {
    const { db, post } = startApp()
    const source = makeSource(db)
    await post(`/sources/${source}/delete`)
    expect((await post(`/bin/source/${source}/purge`)).headers.location).toBe('/bin?done=purged')
    expect(db.all(db.sql.selectFrom('source').select('id'))).toEqual([])
  })
})

describe('scheduleBin({ db, now })', () => {
  test('at once takes out what has lain there for more than 30 days', () => {
    const { db } = startApp()
    const [old, young] = [makeSource(db), makeSource(db)]
    const throwAway = db.raw.prepare('update source set deleted_at = ? where id = ?')
    throwAway.run('2026-10-25T11:59:59.000Z', old)
    throwAway.run('2026-10-25T12:00:01.000Z', young)
    scheduleBin({
      db,
      now: () => NOW,
      onBroken: (error) => {
        throw error
      },
    })()
    expect(db.all(db.sql.selectFrom('source').select('id'))).toEqual([{ id: young }])
  })
})

describe('purgeBefore(db, limit)', () => {
  test('empties what has lain longer, with all that belongs to it, and keeps the rest', () => {
    const { db } = startApp()
    const old = makePiece(db, { name: 'Old' })
    makeSitting(db, old)
    const young = makePiece(db, { name: 'Young' })
    const standing = makePiece(db, { name: 'Standing' })
    const throwAway = db.raw.prepare('update piece set deleted_at = ? where id = ?')
    throwAway.run('2026-10-01T00:00:00.000Z', old)
    throwAway.run('2026-11-20T00:00:00.000Z', young)
    expect(purgeBefore(db, '2026-10-25T00:00:00.000Z')).toBe(1)
    expect(db.all(db.sql.selectFrom('piece').select('id').orderBy('id'))).toEqual([{ id: young }, { id: standing }])
    expect(db.all(db.sql.selectFrom('sitting').select('id'))).toEqual([])
  })

  test('leaves what something standing still rests on', () => {
    const { db } = startApp()
    const originalId = makeOriginal(db)
    makePiece(db, { originalId })
    db.raw.prepare('update original set deleted_at = ?').run('2026-01-01T00:00:00.000Z')
    expect(purgeBefore(db, '2026-10-25T00:00:00.000Z')).toBe(0)
  })
})
