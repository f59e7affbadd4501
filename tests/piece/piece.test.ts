import { describe, expect, test } from 'vitest'
import type { Draft } from '../../shared/draft/draft.ts'
import { insertDraft } from '../../server/draft/queries.ts'
import type { Db } from '../../server/db/open.ts'
import { findPiece, listPieceYarns } from '../../server/piece/queries.ts'
import { makeClaim } from '../support/make.ts'
import { makePiece, makeSitting } from '../support/make-piece.ts'
import { startApp } from '../support/start.ts'

const AT = '2026-11-24T12:00:00.000Z'

const FRET: Draft = {
  title: 'Small steps',
  colours: { m: { name: 'madder', hex: '#9c3b2e' }, w: { name: 'undyed', hex: '#e9dfc8' } },
  weft: 'm',
  tablets: [
    { threading: 'S', holes: ['m', 'm', 'w', 'w'], start: 'A', part: 'border' },
    { threading: 'Z', holes: ['m', 'w', 'w', 'm'], start: 'A', part: 'pattern' },
  ],
  picks: ['2F', '1F 1B', '1B 1F', '2B'],
}

const makeDraft = (db: Db) => insertDraft(db, { notes: '', originalId: undefined, draft: FRET }, AT)

function makeOriginal(db: Db): number {
  const words = { other_names: '', holder: '', inventory_number: '', find_place: '', find_context: '', date_edtf: '' }
  const texts = { name: 'Band of the tarn', technique: '', preservation: '', notes: '', created_at: AT, updated_at: AT }
  return db.run(db.sql.insertInto('original').values({ ...words, ...texts, earliest_year: null, latest_year: null })).id
}

const TYPED = {
  ...{ name: 'Ferry belt', maker: 'Runa', forWhom: 'the ferry house', original: '', revision: '' },
  ...{ plannedOn: '2026-01-05', onLoomOn: '2026-02-01', wovenOn: '', finishedOn: '', setAsideOn: '' },
  ...{ setAsideReason: '', notes: 'A *tight* warp.', wentWrong: '' },
}

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

describe('POST /pieces with yarns', () => {
  test('keeps the filled rows in order, with the count as typed and the tex it amounts to', async () => {
    const { db, get, post } = startApp()
    const { revisionId } = makeDraft(db)
    await post('/pieces', {
      ...{ ...TYPED, revision: String(revisionId) },
      ...{ 'role-0': 'Pattern warp', 'yarn-0': 'Worsted, fen sheep', 'count-0': '20,0', 'countSystem-0': 'Nm' },
      ...{ 'ply-0': '2', 'colourKey-0': 'm', 'role-1': ' ', 'countSystem-1': 'tex', 'countSystem-2': 'tex' },
      ...{ 'role-2': 'tie-down', 'yarn-2': 'linen' },
    })
    expect(listPieceYarns(db, 1)).toEqual([
      { role: 'pattern warp', yarn: 'Worsted, fen sheep', count: '20.0', countSystem: 'Nm', ply: 2, colourKey: 'm' },
      { role: 'tie-down', yarn: 'linen', count: undefined, countSystem: 'tex', ply: 1, colourKey: '' },
    ])
    const { text } = await get('/pieces/1')
    expect(text).toContain('20.0 Nm (metric), 2-ply')
    // Nm 20 is 20 m in a gram, 50 g in 1000 m; two of them 100.
    expect(text).toMatch(/<td class="number">50<\/td>\s*<td class="number">100<\/td>/)
    expect(text).toMatch(/fill="#9c3b2e"[^]*madder/)
    expect(text).toContain('not known')
  })

  test.each([
    ['role-0', { 'role-0': '', 'yarn-0': 'silk' }, 'Please say what this yarn does'],
    ['yarn-0', { 'role-0': 'weft' }, 'Please say which yarn it is, or give its count.'],
    ['count-0', { 'count-0': 'thick' }, 'Please type a number'],
    ['count-0', { 'count-0': '20/2' }, 'Please part 20/2: the count of one single here, the plies beside it.'],
    ['count-0', { 'count-0': '0' }, 'A count is more than 0'],
    ['ply-0', { 'ply-0': '0' }, 'Please type a whole number from 1 to 100.'],
    ['countSystem-0', { 'countSystem-0': 'stone' }, 'Please choose what the count counts.'],
    ['colourKey-0', { 'colourKey-0': 'q' }, 'This colour is not one of the draft chosen'],
  ])('with %s as in %o points at the row, closed up', async (field, typed, sentence) => {
    const { db, post } = startApp()
    // Typed in the second row, with an empty one above: it comes back as the first.
    const row = Object.entries({ 'role-0': 'weft', 'yarn-0': '', 'countSystem-0': 'tex', ...typed })
    const moved = Object.fromEntries(row.map(([name, value]) => [name.replace('-0', '-1'), value]))
    const answer = await post('/pieces', { ...TYPED, ...moved })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(`<a href="#f-${field}">Yarn 1, `)
    expect(answer.text).toContain(sentence)
    expect(findPiece(db, 1)).toBeUndefined()
  })

  test('that ask for more rows get them and the colours of the draft, and nothing is kept or judged', async () => {
    const { db, post } = startApp()
    const { revisionId } = makeDraft(db)
    const typed = { ...TYPED, name: '', revision: String(revisionId), 'role-0': 'weft', 'yarn-0': 'linen', rows: 'yes' }
    const answer = await post('/pieces', typed)
    expect(answer.status).toBe(200)
    expect(answer.text).toContain('madder (m)')
    expect(answer.text).toContain('value="linen"')
    expect(answer.text).toContain('aria-label="Yarn 4"')
    expect(answer.text).not.toContain('aria-label="Yarn 5"')
    expect(answer.text).not.toContain('There is a problem')
    expect(findPiece(db, 1)).toBeUndefined()
  })

  test('changes them all at once when the piece is saved again', async () => {
    const { db, get, post } = startApp()
    const yarn = { role: 'weft', yarn: 'linen', count: '13.0', countSystem: 'NeL', ply: 1, colourKey: '' } as const
    const id = makePiece(db, { yarns: [yarn, { ...yarn, role: 'border warp' }] })
    const { text } = await get(`/pieces/${id}/edit`)
    expect(text).toContain('value="13.0"')
    expect(text).toContain('aria-label="Yarn 5"')
    await post(`/pieces/${id}`, { ...TYPED, 'role-0': 'weft', 'yarn-0': 'hemp', 'countSystem-0': 'tex' })
    expect(listPieceYarns(db, id).map(({ yarn }) => yarn)).toEqual(['hemp'])
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
