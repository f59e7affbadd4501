import { describe, expect, test } from 'vitest'
import { makeSource } from '../support/make.ts'
import { makePiece, makeSitting } from '../support/make-piece.ts'
import { startApp } from '../support/start.ts'

const SOURCE = { title: 'Bands of the Fen', people: 'Oss, R.', year: '1987', kind: 'book' }

describe('GET /sources/:id/history', () => {
  test('tells what was changed, from what to what', async () => {
    const { db, get, post } = startApp()
    makeSource(db, { title: 'Bands of the Fen', year: '1986' })
    await post('/sources/1', SOURCE)
    const { text } = await get('/sources/1/history')
    expect(text).toContain('recorded')
    expect(text).toMatch(/Year<\/a><\/td><td>1986<\/td><td>1987/)
    expect(text).not.toContain('>Title<')
  })

  test('narrowed to a field leaves out the others', async () => {
    const { db, get, post } = startApp()
    makeSource(db, { title: 'Bands of the Fen', year: '1986', people: 'Oss' })
    await post('/sources/1', SOURCE)
    const { text } = await get('/sources/1/history?field=year')
    expect(text).toContain('1986')
    expect(text).not.toContain('Oss')
  })

  test('calls the bin by its name', async () => {
    const { db, get, post } = startApp()
    makeSource(db)
    await post('/sources/1/delete')
    await post('/bin/source/1/restore')
    const { text } = await get('/sources/1/history')
    expect(text).toContain('put in the bin')
    expect(text).toContain('taken out of the bin')
  })

  test.each(['/sources/9/history', '/sources/x/history', '/pieces/9/history'])('%s is not there', async (path) => {
    expect((await startApp().get(path)).status).toBe(404)
  })
})

describe('GET /pieces/:id/history', () => {
  test('holds the changes of its sittings too', async () => {
    const { db, get } = startApp()
    const piece = makePiece(db)
    const sitting = makeSitting(db, piece, { note: 'first word' })
    db.raw.prepare("update sitting set note = 'second word' where id = ?").run(sitting)
    const { text } = await get(`/pieces/${piece}/history`)
    expect(text).toContain(`Sitting ${sitting}`)
    expect(text).toContain('first word')
    expect(text).toContain('second word')
  })
})
