import { describe, expect, test } from 'vitest'
import { insertDraft, OWN_FRAME } from '../../server/draft/queries.ts'
import { listForecasts } from '../../server/forecast/queries.ts'
import { makePiece, makeSitting } from '../support/make-piece.ts'
import { readable } from '../support/html.ts'
import { startApp } from '../support/start.ts'
import { enteredOf, LADDER } from '../plan/facts.ts'

const AT = '2026-11-24T12:00:00.000Z'

function start() {
  const started = startApp()
  const draft = insertDraft(started.db, { draft: LADDER, notes: '', originalId: undefined, convention: OWN_FRAME }, AT)
  const piece = (days: Parameters<typeof makePiece>[1] = {}) =>
    makePiece(started.db, { name: 'Belt', onLoomOn: '2026-10-01', draftRevisionId: draft.revisionId, ...days })
  return { ...started, draft, piece }
}
const done = { wovenOn: '2026-11-01', finishedOn: '2026-11-02' }

describe('GET /pieces/:id/forecast', () => {
  test('asks for the repeats where no plan says them', async () => {
    const { get, piece } = start()
    const { status, text } = await get(`/pieces/${piece()}/forecast`)
    expect(status).toBe(200)
    expect(text).toContain('is not said yet')
  })

  test('foretells what is left by the curve of the piece itself, and dates by the hours of a week', async () => {
    const { db, get, piece } = start()
    const id = piece()
    // 80 % curve, no scatter: repeats 5 to 8 take 173.5 minutes.
    for (const [at, minutes] of [100, 80, 70.21, 64].entries())
      makeSitting(db, id, { day: `2026-10-0${at + 1}`, minutes: Math.round(minutes), repeats: 1 })
    const text = readable(
      (
        await get(
          `/pieces/${id}/forecast?repeats=8&hoursPerWeek=2&mon=yes&daysOff=2026-11-30&expect-finish=1&expect-write=1`,
        )
      ).text,
    )
    expect(text).toContain('Its own learning curve through 4 stretches')
    expect(text).toContain('4 repeats after 4 woven')
    expect(text).not.toContain('Thread the tablets</th>')
    expect(text).toContain('Likely, ')
    expect(text).toMatch(/<dd>\d+ (December|January) \d{4}<\/dd>/)
  })

  test('takes the repeats from the kept plan, and says of guesses that they are guesses', async () => {
    const { get, post, piece } = start()
    const id = piece()
    await post(`/pieces/${id}/plan`, { ...enteredOf({ wovenBy: 'repeats', repeats: '12', picksPerCm: '10' }) })
    const text = readable((await get(`/pieces/${id}/forecast`)).text)
    expect(text).toContain('A guess of ours with no source, n = 0')
    expect(text).toContain('8 of 8 stages are guesses')
  })

  test('shows what was typed again with a sentence beside it', async () => {
    const { get, piece } = start()
    const { status, text } = await get(`/pieces/${piece()}/forecast?repeats=none&daysOff=soon`)
    expect(status).toBe(422)
    expect(text).toContain('value="none"')
    expect(text).toContain('One a line: a day')
  })

  test('leads from a piece without a draft to its plan, which asks for one; and finds none that is not there', async () => {
    const { db, get } = start()
    const bare = makePiece(db)
    const answer = await get(`/pieces/${bare}/forecast`)
    expect([answer.status, answer.headers.location]).toEqual([303, `/pieces/${bare}/plan`])
    expect((await get(`/pieces/${bare}/plan`)).text).toContain('Choose a draft for the piece')
    expect((await get('/pieces/999/forecast')).status).toBe(404)
    expect((await get('/pieces/x/forecast')).status).toBe(404)
  })
})

describe('GET /drafts/:id/revisions/:number/forecast', () => {
  test('rests on finished pieces of the viewer’s own, with their n', async () => {
    const { db, get, draft, piece } = start()
    for (const minutes of [300, 330, 360]) makeSitting(db, piece(done), { minutes, repeats: 5 })
    const text = readable((await get(`/drafts/${draft.id}/revisions/1/forecast?repeats=5`)).text)
    expect(text).toContain('3 finished pieces of your own')
    expect(text).toContain('n = 3: Belt, Belt, Belt')
    expect(text).toContain('No learning is taken in: no piece of yours has a curve (n = 0).')
  })

  test('goes by a length too, and says what it lacks', async () => {
    const { get, draft } = start()
    const path = `/drafts/${draft.id}/revisions/1/forecast`
    expect((await get(`${path}?cm=100`)).text).toContain('A length needs the picks per cm.')
    expect((await get(`${path}?cm=100&picksPerCm=10`)).text).toContain('By stage')
    expect((await get(`/drafts/${draft.id}/revisions/9/forecast`)).status).toBe(404)
  })
})

describe('POST /forecasts', () => {
  test('keeps it for ever, and holds it against the hours that came after, once the piece is finished', async () => {
    const { db, get, post, piece } = start()
    const id = piece()
    for (const day of ['2026-10-01', '2026-10-02', '2026-10-03']) makeSitting(db, id, { day, minutes: 60, repeats: 1 })
    const kept = await post('/forecasts', {
      piece: String(id),
      repeats: '5',
      'expect-finish': '0.5',
      'expect-write': '0.5',
    })
    expect(kept.status).toBe(303)
    expect(listForecasts(db)).toMatchObject([{ kind: 'remaining', actualMinutes: undefined }])
    makeSitting(db, id, { day: '2026-10-20', minutes: 121, repeats: 2 })
    makeSitting(db, id, { day: '2026-10-21', stage: 'study', minutes: 500 })
    db.run(db.sql.updateTable('piece').set({ woven_on: '2026-11-01', finished_on: '2026-11-02' }).where('id', '=', id))
    expect(listForecasts(db)).toMatchObject([{ actualMinutes: 121 }])
    const text = readable((await get('/forecasts')).text)
    expect(text).toContain('1 past forecasts held')
    expect(text).toContain('Under five forecasts nothing is claimed')
    expect(() => db.raw.exec('update forecast set high_minutes = 1000000')).toThrow('never changed')
  })

  test('of a draft is given its piece later', async () => {
    const { db, post, draft, piece } = start()
    await post('/forecasts', { revision: String(draft.revisionId), repeats: '5' })
    const id = piece(done)
    makeSitting(db, id, { minutes: 90, repeats: 5 })
    const forecast = listForecasts(db)[0]?.id
    expect((await post(`/forecasts/${forecast}`, { piece: String(id) })).status).toBe(303)
    expect(listForecasts(db)).toMatchObject([{ pieceId: id, actualMinutes: 90 }])
    expect((await post(`/forecasts/${forecast}`, { piece: '999' })).status).toBe(404)
    expect((await post('/forecasts/999', { piece: '' })).status).toBe(404)
  })

  test('keeps nothing where nothing is foretold', async () => {
    const { db, post, draft } = start()
    expect((await post('/forecasts', { revision: String(draft.revisionId) })).status).toBe(422)
    expect((await post('/forecasts', { revision: '999', repeats: '3' })).status).toBe(404)
    expect(listForecasts(db)).toEqual([])
  })
})
