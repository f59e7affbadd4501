import { describe, expect, test } from 'vitest'
import { findPiece } from '../../server/piece/queries.ts'
import { makeClaim } from '../support/make.ts'
import { makePiece, makeSitting } from '../support/make-piece.ts'
import { startApp } from '../support/start.ts'
import { makeDraft, makeOriginal, TYPED } from './sample.ts'

describe('GET /pieces/new', () => {
  test('opens with the maker of the last piece, today as the day of planning, and what the address chooses', async () => {
    const { db, get } = startApp()
    makePiece(db, { maker: 'Tove' })
    const { revisionId } = makeDraft(db)
    const { text } = await get(`/pieces/new?revision=${revisionId}`)
    expect(text).toContain('name="maker" type="text" value="Tove"')
    expect(text).toContain('value="2026-11-24"')
    expect(text).toContain('<optgroup label="Small steps">')
    expect(text).toContain(`<option value="${revisionId}" selected>Small steps, revision 1</option>`)
    expect(text).toContain('<option value="m">madder (m)</option>')
    expect(text).toContain('not tested for load')
  })
})

describe('POST /pieces', () => {
  test('keeps the piece, says what is true of it, and leads to its page', async () => {
    const { db, get, post } = startApp()
    const { id: draftId, revisionId } = makeDraft(db)
    const answer = await post('/pieces', { ...TYPED, revision: String(revisionId), wentWrong: 'Two slips.' })
    expect(answer.status).toBe(303)
    expect(answer.headers.location).toBe('/pieces/1?done=saved')
    const { text } = await get('/pieces/1')
    expect(text).toContain('On the loom since 1 February 2026')
    expect(text).toContain('<em>tight</em>')
    expect(text).toContain('Two slips.')
    expect(text).toContain(`src="/drafts/${draftId}/revisions/1/face.svg`)
    expect(text).toContain('Small steps, revision 1')
    expect(text).toContain('None: own design')
    expect(text).toContain('What was measured on it')
    expect(text).toContain('href="/pieces/1/sittings/new"')
    expect((await get(/src="(\/drafts[^"]*)"/.exec(text)?.[1] ?? '')).type).toBe('image/svg+xml')
  })

  test('without a name shows the form again with what was typed', async () => {
    const { db, post } = startApp()
    const answer = await post('/pieces', {
      ...TYPED,
      name: ' ',
      wentWrong: '<b>&',
      'role-1': 'weft',
      'yarn-1': '"fine"',
    })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain('href="#f-name"')
    expect(answer.text).toContain('&lt;b&gt;&amp;')
    expect(answer.text).toContain('&quot;fine&quot;')
    expect(findPiece(db, 1)).toBeUndefined()
  })

  test.each([
    [
      'finishedOn',
      { wovenOn: '2026-03-01', finishedOn: '2026-02-28' },
      'This lies before “Off the loom, woven”, 1 March 2026',
    ],
    ['onLoomOn', { plannedOn: '2026-02-02' }, 'This lies before “Planned”, 2 February 2026'],
    [
      'finishedOn',
      { finishedOn: '2026-03-01', setAsideOn: '2026-03-02' },
      'This lies before “Set aside”, 2 March 2026',
    ],
    ['wovenOn', { wovenOn: '2026-11-25' }, 'This day has not come yet'],
    ['wovenOn', { wovenOn: 'May' }, 'Please give the day as year-month-day'],
    ['setAsideOn', { setAsideReason: 'Moth.' }, 'A reason needs the day on which it was set aside.'],
    ['original', { original: '5' }, 'This original is not in the notebook any more'],
    ['revision', { revision: '5' }, 'This draft is not in the notebook any more'],
    ['revision', { revision: 'x' }, 'Please choose from the list.'],
    ['notes', { notes: 'wool '.repeat(14_000) }, 'at most 64 KB'],
  ])('with %s as in %o says what is wrong beside the field', async (field, typed, sentence) => {
    const { db, post } = startApp()
    const answer = await post('/pieces', { ...TYPED, ...typed })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(sentence)
    expect(answer.text).toContain(`href="#f-${field}"`)
    expect(findPiece(db, 1)).toBeUndefined()
  })
})

describe('GET /pieces/:id', () => {
  test('shows the same pace as its comparison, also where a length alone was noted', async () => {
    const { db, get } = startApp()
    const originalId = makeOriginal(db)
    const { revisionId } = makeDraft(db)
    const id = makePiece(db, { originalId, draftRevisionId: revisionId })
    makeClaim(db, { pieceId: id }, { feature: 'repeatLength', value: '10' })
    makeSitting(db, id, { minutes: 60, lengthMm: 30 })
    const [own, compared] = [await get(`/pieces/${id}`), await get(`/pieces/${id}/compare`)]
    for (const { text } of [own, compared]) {
      const words = text.replace(/<[^>]*>/g, ' ').replace(/\s+/g, ' ')
      // 3 repeats of 10 mm and 4 picks in an hour.
      for (const shown of ['A repeat takes 20.0 min over 60 min', 'Picks in an hour 12.0 over 60 min', 'hour 3.00 cm'])
        expect(words).toContain(shown)
      expect(words).toContain('from a repeat of 4 picks (the draft) and a repeat of 10.0 mm (measured on the piece).')
    }
  })

  test('sums the sittings by stage, breaks apart, and says what the pace stands on', async () => {
    const { db, get } = startApp()
    const { revisionId } = makeDraft(db)
    const id = makePiece(db, { draftRevisionId: revisionId })
    makeSitting(db, id, { stage: 'thread', minutes: 150, breakMinutes: 30, day: '2026-11-01' })
    // 3 repeats of 4 picks, then 2 picks undone: 10 picks in 100 minutes.
    makeSitting(db, id, { minutes: 100, breakMinutes: 20, repeats: 3, day: '2026-11-02', note: 'Went well.' })
    makeSitting(db, id, { stage: 'unweave', minutes: 20, picks: 2, day: '2026-11-03', maker: 'Tove' })
    const { text } = await get(`/pieces/${id}`)
    expect(text).toMatch(/Picks in an hour<\/th><td class="number">6.00<\/td><td>over 100 min in 2 sittings/)
    expect(text).toMatch(/A repeat takes<\/th><td class="number">40.0 min<\/td>/)
    expect(text).not.toContain('Woven in an hour')
    expect(text).toContain('the time of unweaving counts')
    expect(text).toContain('the others follow from a repeat of 4 picks (the draft).')
    expect(text).toMatch(
      /Thread the tablets<\/th><td class="number">1<\/td><td class="number">2 h<\/td><td class="number">30 min/,
    )
    expect(text).toMatch(
      /All stages<\/th><td class="number">3<\/td><td class="number">3 h 40 min<\/td><td class="number">50 min/,
    )
    expect(text).toContain('undone: 2 picks')
    expect(text).toContain('Tove')
    expect(text.indexOf('3 November 2026')).toBeLessThan(text.indexOf('2 November 2026'))
  })

  test('of a piece set aside says so, with the reason', async () => {
    const { db, get } = startApp()
    makePiece(db, { onLoomOn: '2026-02-01', setAsideOn: '2026-03-02', setAsideReason: 'The warp frayed.' })
    const { text } = await get('/pieces/1')
    expect(text).toContain('Set aside on 2 March 2026')
    expect(text).toContain('The warp frayed.')
  })

  test('leads to the comparison only where there is an original', async () => {
    const { db, get } = startApp()
    const own = makePiece(db)
    const { text } = await get(`/pieces/${own}`)
    expect(text).not.toContain(`/pieces/${own}/compare`)
    expect(text).toContain(`href="/compare?piece&#x3D;${own}"`)
    const replica = makePiece(db, { originalId: makeOriginal(db) })
    const ofOriginal = (await get(`/pieces/${replica}`)).text
    expect(ofOriginal).toContain(`href="/pieces/${replica}/compare"`)
    expect(ofOriginal).toContain('<a href="/originals/1">Band of the tarn</a>')
  })

  test.each(['/pieces/7', '/pieces/0', '/pieces/seven', '/pieces/7/edit', '/pieces/7/delete'])(
    '%s is not there',
    async (path) => {
      const answer = await startApp().get(path)
      expect(answer.status).toBe(404)
      expect(answer.text).toContain('There is no piece at this address.')
    },
  )
})

describe('POST /pieces/:id', () => {
  test('changes the piece', async () => {
    const { db, get, post } = startApp()
    const id = makePiece(db)
    const answer = await post(`/pieces/${id}`, { ...TYPED, wovenOn: '2026-04-01', finishedOn: '2026-04-03' })
    expect(answer.headers.location).toBe(`/pieces/${id}?done=saved`)
    expect((await get(`/pieces/${id}`)).text).toContain('Finished on 3 April 2026')
  })

  test('without a name shows the form again and changes nothing', async () => {
    const { db, post } = startApp()
    const id = makePiece(db, { name: 'Old name' })
    expect((await post(`/pieces/${id}`, { ...TYPED, name: '' })).status).toBe(422)
    expect(findPiece(db, id)?.name).toBe('Old name')
  })

  test('for a piece that is not there is a 404', async () => {
    expect((await startApp().post('/pieces/9', TYPED)).status).toBe(404)
  })
})

describe('/pieces/:id/delete', () => {
  test('names what goes with the piece before anything goes', async () => {
    const { db, get } = startApp()
    const id = makePiece(db, { name: 'Hem band' })
    makeSitting(db, id, { minutes: 95, breakMinutes: 5 })
    const { text } = await get(`/pieces/${id}/delete`)
    expect(text).toContain('Delete “Hem band”')
    expect(text).toContain('1 sitting, 1 h 30 min of work')
    expect(findPiece(db, id)).toBeDefined()
  })

  test('sent, puts the piece in the bin with its sittings', async () => {
    const { db, get, post } = startApp()
    const id = makePiece(db)
    makeSitting(db, id)
    const answer = await post(`/pieces/${id}/delete`)
    expect(answer.headers.location).toBe(`/pieces?undo=piece-${id}&done=deleted`)
    expect((await get(`/pieces/${id}`)).status).toBe(404)
    expect((await get('/pieces')).text).not.toContain(`/pieces/${id}"`)
  })

  test('sent for a piece that is not there is a 404', async () => {
    expect((await startApp().post('/pieces/9/delete')).status).toBe(404)
  })
})
