import { describe, expect, test } from 'vitest'
import { listChanges } from '../../server/history/queries.ts'
import { makeDraft, makeOriginal, makePiece, makeRevision } from '../support/rows.ts'
import { startApp } from '../support/start.ts'
import { makePhoto } from '../rights/things.ts'

/** One tablet, S, turned forward once: madder. */
const FIELDS = {
  ...{ colours: 'm madder #9c3b2e\nw undyed #e9dfc8', observed: 'm\nm\nw\n.', photo: '', marks: '' },
  ...{ observedOn: '2026-11-20', observedBy: 'R. Oss', note: 'Left half', revision: '' },
}

function startPiece() {
  const started = startApp()
  const draft = makeDraft(started.db)
  const revision = makeRevision(started.db, { draft_id: draft })
  const piece = makePiece(started.db, { draft_revision_id: revision })
  return { ...started, draft, revision, piece }
}

describe('GET /observed/new', () => {
  test('opens for a piece with its draft to compare with, and for nothing at all', async () => {
    const { get, piece, revision } = startPiece()
    const { text } = await get(`/observed/new?piece=${piece}`)
    expect(text).toContain(`action="/pieces/${piece}/observed"`)
    expect(text).toContain(`<option value="${revision}" selected`)
    const plain = await get('/observed/new')
    expect(plain.status).toBe(200)
    expect(plain.text).toContain('action="/drafts/infer"')
    expect(plain.text).not.toContain('Keep it with')
  })

  test.each(['piece=99', 'original=99'])('?%s is not there', async (query) => {
    expect((await startApp().get(`/observed/new?${query}`)).status).toBe(404)
  })
})

describe('POST /pieces/:id/observed', () => {
  test('keeps the face with what differs from the draft, and tells it on the page of the piece', async () => {
    const { get, post, db, piece, revision } = startPiece()
    const saved = await post(`/pieces/${piece}/observed`, { ...FIELDS, revision: String(revision) })
    expect(saved.status).toBe(303)
    const { text } = await get('/observed/1')
    const said = '1 of 3 legible cells differs from Ladder, revision 1: 333 per 1,000.'
    expect(text).toContain(said)
    expect(text).toContain('S and Z of the tablets are a guess')
    const worked = await post('/drafts/infer', { colours: FIELDS.colours, observed: FIELDS.observed })
    expect(worked.text.match(/No slant was read, so S and Z are a guess/g)).toHaveLength(2)
    expect(text).toContain('<td class="number">3</td><td class="number">1</td><td>undyed</td><td>madder</td>')
    expect((await get(`/pieces/${piece}`)).text).toContain(said)
    const svg = await get('/observed/1/face.svg')
    expect(svg.headers['content-type']).toContain('image/svg+xml')
    expect(listChanges(db, 'piece', piece).map(({ kind, action }) => `${kind} ${action}`)).toContain('observed insert')
  })

  test.each([
    ['a key that has no colour', { observed: 'm\nq' }, 'no colour has this key'],
    ['rows of different lengths', { observed: 'm\nm m' }, '2 tablets found, 1 needed'],
    [
      'a draft of other tablets',
      { observed: 'm m', revision: '1' },
      'This draft has 1 tablet, but the observed face has 2',
    ],
    ['a draft that is not there', { revision: '77' }, 'This draft is not in the notebook any more'],
    ['a photograph of something else', { photo: '77' }, 'This photograph is not there any more'],
    ['a day that has not come', { observedOn: '2027-01-01' }, 'That day has not come yet'],
    ['marks that are none', { marks: '{"corners":1}' }, 'The marks on the photograph could not be read'],
  ])('with %s shows the form again with what was typed', async (_, changed, sentence) => {
    const { post, piece, db } = startPiece()
    const answer = await post(`/pieces/${piece}/observed`, { ...FIELDS, note: 'Seen “so”', ...changed })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(sentence)
    expect(answer.text).toContain('Seen “so”')
    expect(db.all(db.sql.selectFrom('observed').selectAll())).toEqual([])
  })

  test('of a piece that is not there is refused', async () => {
    expect((await startApp().post('/pieces/99/observed', FIELDS)).status).toBe(404)
    expect((await startApp().post('/pieces/x/observed', FIELDS)).status).toBe(404)
  })
})

describe('an observed face of an original', () => {
  test('keeps its photograph and marks, goes into the bin and comes back', async () => {
    const { get, post, db } = startApp()
    const original = makeOriginal(db)
    const photo = makePhoto(db, { original_id: original })
    const corner = (x: number, y: number) => ({ x, y })
    const marks = {
      corners: { startLeft: corner(0, 9), startRight: corner(4, 9), endRight: corner(4, 0), endLeft: corner(0, 0) },
      bend: [0, 0, 0].map(() => ({ across: 0, along: 0 })),
      ...{ tablets: 1, picks: 4, width: 10, height: 12 },
    }
    const fields = { ...FIELDS, photo: String(photo), marks: JSON.stringify(marks) }
    expect((await post(`/originals/${original}/observed`, fields)).status).toBe(303)
    const row = db.first(db.sql.selectFrom('observed').selectAll())!
    expect([row.photo_id, JSON.parse(row.marks)]).toEqual([photo, marks])
    expect((await get('/observed/1')).text).toContain(`href="/photos/${photo}"`)
    expect((await get(`/originals/${original}`)).text).toContain('3 of 4 cells legible')
    const again = (await get('/observed/new?again=1')).text
    expect(again).toContain('<a href="/observed/1">Left half, seen on 20 November 2026</a>')
    expect(again).toContain('m madder #9c3b2e\nw undyed #e9dfc8')
    expect(again).toContain(JSON.stringify(marks).replaceAll('"', '&quot;'))
    await post(`/originals/${original}/observed`, fields)
    expect((await get('/observed/2')).text).toContain('<a href="/observed/1">')

    const gone = await post('/observed/1/delete')
    expect(gone.headers.location).toContain(`/originals/${original}?undo=observed-1`)
    expect((await get('/observed/1')).status).toBe(404)
    expect((await get('/bin')).text).toContain('Observed face: Left half, Fen band')
    await post('/bin/observed/1/restore')
    expect((await get('/observed/1')).status).toBe(200)
    await post('/observed/1/delete')
    await post('/bin/observed/1/purge')
    expect(db.all(db.sql.selectFrom('observed').select('id'))).toEqual([{ id: 2 }])
  })

  test.each(['/observed/new?again=9', '/observed/9', '/observed/x', '/observed/9/face.svg'])(
    '%s is not there',
    async (path) => {
      expect((await startApp().get(path)).status).toBe(404)
    },
  )
})
