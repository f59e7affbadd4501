import { describe, expect, test } from 'vitest'
import { findOriginal } from '../../server/original/queries.ts'
import { makePiece } from '../support/make-piece.ts'
import { makeClaim, makeOriginal } from '../support/make.ts'
import { readable } from '../support/html.ts'
import { startApp } from '../support/start.ts'

const FIELDS = {
  name: 'Fen band',
  otherNames: ' Girdle of the fen \n\n Inv. band 3 ',
  holder: 'Museum of the Fen',
  inventoryNumber: 'MF 12.3',
  date: '-0449~',
  notes: 'Seen *twice*.',
}

describe('POST /originals', () => {
  test('keeps the original and shows its names, holder and date in English', async () => {
    const { get, post, db } = startApp()
    const answer = await post('/originals', FIELDS)
    expect(answer.status).toBe(303)
    expect(answer.headers.location).toBe('/originals/1?done=saved')
    const { text } = await get('/originals/1')
    for (const shown of [
      'Fen band',
      'Girdle of the fen',
      'Inv. band 3',
      'Museum of the Fen',
      'MF 12.3',
      'about 450 BCE',
    ])
      expect(text).toContain(shown)
    expect(text).toContain('<em>twice</em>')
    expect(findOriginal(db, 1)).toMatchObject({
      otherNames: 'Girdle of the fen\nInv. band 3',
      date: '-0449~',
      earliestYear: -449,
      latestYear: -449,
    })
  })

  test.each([
    ['name', '  ', 'Please give the original a name'],
    ['date', '-450', '450 BCE is -0449'],
    ['date', 'about 450 BC', 'not a date in the EDTF notation'],
    ['notes', 'wool '.repeat(14_000), 'at most 64 KB'],
  ])('with %s as it should not be shows the form again with what was typed', async (field, typed, sentence) => {
    const { get, post } = startApp()
    const answer = await post('/originals', { ...FIELDS, [field]: typed })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(sentence)
    expect(answer.text).toContain(`href="#f-${field}"`)
    expect(answer.text).toContain('value="Museum of the Fen"')
    expect(answer.text).toContain(typed)
    expect((await get('/originals/1')).status).toBe(404)
  })
})

describe('GET /originals/:id', () => {
  test.each(['/originals/7', '/originals/0', '/originals/seven', '/originals/7/edit'])(
    '%s is not there',
    async (path) => {
      const answer = await startApp().get(path)
      expect(answer.status).toBe(404)
      expect(answer.text).toContain('There is no original at this address.')
    },
  )

  test('offers the features of which nothing is claimed, and a new one', async () => {
    const { db, get } = startApp()
    const id = makeOriginal(db)
    const text = readable((await get(`/originals/${id}`)).text)
    expect(text).toContain('href="/originals/1/claims/new?feature=width"')
    expect(text).toContain('href="/features/new?original=1"')
  })

  test('leads to the pieces woven from it and to their comparison', async () => {
    const { db, get } = startApp()
    const originalId = makeOriginal(db)
    const id = makePiece(db, { name: 'Second try', originalId, setAsideOn: '2026-02-03' })
    const { text } = await get(`/originals/${originalId}`)
    expect(text).toContain('Second try')
    expect(text).toContain('set aside 2026-02-03')
    expect(text).toContain(`href="/pieces/${id}/compare"`)
  })
})

describe('GET /originals/:id with drafts of it', () => {
  test('shows the face of the newest revision, and says that it is a draft', async () => {
    const { db, get } = startApp()
    const original_id = makeOriginal(db)
    const at = '2026-11-24T12:00:00Z'
    const draft = { title: 'Fret', notes: '', original_id, created_at: at, updated_at: at }
    const { id } = db.run(db.sql.insertInto('draft').values(draft))
    for (const number of [1, 2]) {
      const size = { tablets: 12 + number, picks: 24, twist_neutral: 1 as const }
      const revision = { draft_id: id, number, note: '', document: '{}', ...size, created_at: at }
      db.run(db.sql.insertInto('draft_revision').values(revision))
    }
    const { text } = await get(`/originals/${original_id}`)
    expect(text).toContain('/drafts/1/revisions/2/face.svg')
    expect(text).toContain('14 tablets, 24 picks, revision 2')
    expect(text).toContain('not measured on the original')
  })
})

describe('POST /originals/:id', () => {
  test('changes the original; an emptied date leaves no years behind', async () => {
    const { db, post } = startApp()
    await post('/originals', FIELDS)
    expect((await post('/originals/1', { ...FIELDS, name: 'Upper fen band', date: '' })).status).toBe(303)
    expect(findOriginal(db, 1)).toMatchObject({
      name: 'Upper fen band',
      date: '',
      earliestYear: null,
      latestYear: null,
    })
  })

  test('with a date that is none shows the form again under the same address', async () => {
    const { db, post } = startApp()
    makeOriginal(db)
    const answer = await post('/originals/1', { ...FIELDS, date: '199' })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain('action="/originals/1"')
    expect(answer.text).toContain('value="199"')
  })

  test('for an original that is not there changes nothing', async () => {
    expect((await startApp().post('/originals/9', FIELDS)).status).toBe(404)
  })
})

describe('GET /originals/:id/edit', () => {
  test('shows every field as it was typed', async () => {
    const { get, post } = startApp()
    await post('/originals', FIELDS)
    const { text } = await get('/originals/1/edit')
    for (const typed of [
      'value="Fen band"',
      'Girdle of the fen\nInv. band 3',
      'value="-0449~"',
      'about 450 BCE',
      'Seen *twice*.',
    ])
      expect(text).toContain(typed)
  })
})

describe('POST /originals/:id/delete', () => {
  test('puts it in the bin with its claims', async () => {
    const { db, get, post } = startApp()
    const id = makeOriginal(db)
    makeClaim(db, { originalId: id })
    expect((await get('/originals/1')).text).toContain('Its one claim goes with it.')
    expect((await post('/originals/1/delete')).headers.location).toBe('/originals?undo=original-1&done=deleted')
    expect((await get('/originals/1')).status).toBe(404)
    expect((await get('/claims/1')).status).toBe(404)
  })

  test('refuses while a piece is woven from it', async () => {
    const { db, get, post } = startApp()
    const originalId = makeOriginal(db)
    makePiece(db, { originalId })
    const answer = await post('/originals/1/delete')
    expect(answer.status).toBe(409)
    expect(answer.text).toContain('1 piece is woven from this original, so it stays.')
    expect((await get('/originals/1')).status).toBe(200)
  })

  test.each(['/originals/9/delete', '/originals/nine/delete'])('%s is not there', async (path) => {
    expect((await startApp().post(path)).status).toBe(404)
  })
})
