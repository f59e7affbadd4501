import { describe, expect, test } from 'vitest'
import { findSitting, listSittings } from '../../server/sitting/queries.ts'
import { makePiece, makeSitting } from '../support/make-piece.ts'
import { startApp } from '../support/start.ts'
import { AFTERNOON, TYPED, withPiece } from './sample.ts'

describe('GET /pieces/:id/sittings/new', () => {
  test('offers today, the maker of the piece and the stage of the sitting before', async () => {
    const { db, get, pieceId } = withPiece()
    expect((await get(`/pieces/${pieceId}/sittings/new`)).text).toContain('<option value="weave" selected>')
    makeSitting(db, pieceId, { stage: 'thread' })
    const { text } = await get(`/pieces/${pieceId}/sittings/new`)
    expect(text).toContain('value="2026-11-24"')
    expect(text).toContain('name="maker" type="text" value="Runa"')
    expect(text).toContain('<option value="thread" selected>')
    expect(text).toContain('over the hips, not the waist')
  })

  test.each(['/pieces/7/sittings/new', '/pieces/x/sittings/new'])('%s is not there', async (path) => {
    const answer = await startApp().get(path)
    expect(answer.status).toBe(404)
    expect(answer.text).toContain('There is no piece at this address.')
  })
})

describe('POST /pieces/:id/sittings', () => {
  test('keeps the sitting as instants and leads to the sittings of the piece', async () => {
    const { db, post, pieceId } = withPiece()
    const answer = await post(`/pieces/${pieceId}/sittings`, TYPED)
    expect(answer.status).toBe(303)
    expect(answer.headers.location).toBe(`/pieces/${pieceId}?done=saved#sittings`)
    expect(listSittings(db, pieceId)).toEqual([
      {
        ...{ id: 1, pieceId, stage: 'weave', maker: 'Runa', zone: 'Europe/Berlin', day: '2026-11-20' },
        ...{ ...AFTERNOON, breakMinutes: 20, picks: 90, repeats: undefined, lengthMm: 115, note: 'Warp runs well.' },
        ...{ origin: 'hand', said: undefined, steps: undefined },
      },
    ])
  })

  test.each([
    ['90', 90],
    ['1:30', 90],
  ])('takes minutes alone, %s', async (minutes, expected) => {
    const { db, post, pieceId } = withPiece()
    await post(`/pieces/${pieceId}/sittings`, { ...TYPED, start: '', end: '', minutes })
    expect(findSitting(db, 1)).toMatchObject({ minutes: expected, startedAt: undefined, endedAt: undefined })
  })

  test('takes a start with minutes, and works out the end', async () => {
    const { db, post, pieceId } = withPiece()
    await post(`/pieces/${pieceId}/sittings`, { ...TYPED, end: '', minutes: '150' })
    expect(findSitting(db, 1)).toMatchObject(AFTERNOON)
  })

  test('without a maker takes the maker of the piece', async () => {
    const { db, post, pieceId } = withPiece()
    await post(`/pieces/${pieceId}/sittings`, { ...TYPED, maker: '' })
    expect(findSitting(db, 1)?.maker).toBe('Runa')
  })

  test.each([
    ['stage', { stage: 'nap' }, 'Please choose what the time went into.'],
    ['day', { day: '' }, 'Please give the day.'],
    ['day', { day: '2026-02-30' }, 'Please give the day as year-month-day'],
    ['day', { day: '0202-11-20' }, 'Please look at the year again.'],
    ['day', { day: '2026-11-25' }, 'That has not come yet: it is 13:00 on 24 November 2026'],
    ['end', { day: '2026-11-24' }, 'Note a sitting when it is over.'],
    ['start', { start: '25:00' }, 'Please give the time as 14:05.'],
    ['start', { start: '', end: '' }, 'Please give start and end, or the minutes alone.'],
    ['start', { start: '' }, 'An end needs a start'],
    ['end', { end: '' }, 'Please give the end too, or the minutes.'],
    ['end', { end: '14:00' }, 'Start and end are the same time.'],
    ['end', { nextDay: 'yes' }, 'More than 24 hours is no single sitting'],
    ['minutes', { start: '', end: '', minutes: '24:01' }, 'More than 24 hours is no single sitting'],
    ['minutes', { minutes: '140' }, 'From 14:00 to 16:30 are 150 minutes'],
    ['minutes', { minutes: 'long' }, 'Please give minutes, such as 90, or 1:30.'],
    ['breakMinutes', { breakMinutes: '150' }, 'The whole sitting takes 150 minutes; its breaks must be shorter'],
    ['picks', { picks: '4.5' }, 'Please type a whole number'],
    ['picks', { stage: 'wind' }, 'Only weaving, unweaving and sampling count these'],
    ['repeats', { repeats: '-1' }, 'Please give a number of repeats, 0 or more.'],
    ['length', { length: '-3' }, 'Please give a length, 0 or more.'],
    ['zone', { zone: 'Europe/Nowhere' }, 'Please give a zone by its name'],
  ])('with %s as in %o shows the form again with what was typed', async (field, typed, sentence) => {
    const { db, post, pieceId } = withPiece()
    const answer = await post(`/pieces/${pieceId}/sittings`, { ...TYPED, note: 'Kept “as is”', ...typed })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(sentence)
    expect(answer.text).toContain(`href="#f-${field}"`)
    expect(answer.text).toContain('Kept “as is”')
    expect(listSittings(db, pieceId)).toEqual([])
  })

  test('for a piece that is not there keeps nothing', async () => {
    expect((await startApp().post('/pieces/3/sittings', TYPED)).status).toBe(404)
  })

  test('that ends before it starts asks whether it ended the next day, and takes the answer', async () => {
    const { db, post, pieceId } = withPiece()
    const typed = { ...TYPED, start: '22:30', end: '01:00', breakMinutes: '' }
    const asked = await post(`/pieces/${pieceId}/sittings`, typed)
    expect(asked.status).toBe(422)
    expect(asked.text).toContain('01:00 comes before 22:30. Did it end the next day?')
    expect(asked.text).toContain('name="nextDay"')
    await post(`/pieces/${pieceId}/sittings`, { ...typed, nextDay: 'yes' })
    expect(findSitting(db, 1)).toMatchObject({ day: '2026-11-20', minutes: 150, endedAt: '2026-11-21T00:00:00Z' })
  })
})

describe('POST /sittings/:id', () => {
  test('changes the sitting and does not take it for an overlap with itself', async () => {
    const { db, post, pieceId } = withPiece()
    const id = makeSitting(db, pieceId, AFTERNOON)
    const answer = await post(`/sittings/${id}`, { ...TYPED, stage: 'unweave', end: '15:00', breakMinutes: '' })
    expect(answer.headers.location).toBe(`/pieces/${pieceId}?done=saved#sittings`)
    expect(findSitting(db, id)).toMatchObject({ stage: 'unweave', minutes: 60, breakMinutes: 0, picks: 90 })
  })

  test('with a break as long as the sitting shows the form again', async () => {
    const { db, post, pieceId } = withPiece()
    const id = makeSitting(db, pieceId, AFTERNOON)
    const answer = await post(`/sittings/${id}`, { ...TYPED, breakMinutes: '3:00' })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain('value="3:00"')
    expect(findSitting(db, id)?.breakMinutes).toBe(0)
  })

  test('without a change of the form as it opens changes nothing', async () => {
    const { db, get, post, pieceId } = withPiece()
    const sitting = { ...AFTERNOON, startedAt: '2026-10-25T01:15:00Z', endedAt: '2026-10-25T23:15:00Z', minutes: 1320 }
    const id = makeSitting(db, pieceId, {
      ...sitting,
      day: '2026-10-25',
      breakMinutes: 45,
      repeats: 2.5,
      lengthMm: 4.25,
    })
    const before = findSitting(db, id)
    const { text } = await get(`/sittings/${id}/edit`)
    await post(`/sittings/${id}`, typedIn(text))
    expect(findSitting(db, id)).toEqual(before)
  })

  test.each(['/sittings/9', '/sittings/nine'])('%s is not there', async (path) => {
    expect((await startApp().post(path, TYPED)).status).toBe(404)
  })
})

describe('POST /sittings/:id/delete', () => {
  test('deletes it and leads back to its piece', async () => {
    const { db, get, post, pieceId } = withPiece()
    const id = makeSitting(db, pieceId)
    expect((await get(`/sittings/${id}/edit`)).text).toContain('Weave, 1 h')
    const answer = await post(`/sittings/${id}/delete`)
    expect(answer.headers.location).toBe(`/pieces/${pieceId}?undo=sitting-${id}&done=deleted#sittings`)
    expect(findSitting(db, id)).toBeUndefined()
  })

  test('of a sitting that is not there is a 404', async () => {
    expect((await startApp().post('/sittings/4/delete')).status).toBe(404)
  })
})

describe('listSittings(db, pieceId)', () => {
  test('is in the order of the work: by day and start, without a start last on its day', () => {
    const { db, pieceId } = withPiece()
    makeSitting(db, pieceId, { note: 'no time' })
    makeSitting(db, pieceId, { ...AFTERNOON, note: 'afternoon' })
    makeSitting(db, pieceId, { startedAt: '2026-11-20T08:00:00Z', endedAt: '2026-11-20T09:00:00Z', note: 'morning' })
    makeSitting(db, pieceId, { day: '2026-11-19', note: 'day before' })
    makeSitting(db, makePiece(db), { note: 'another piece' })
    expect(listSittings(db, pieceId).map(({ note }) => note)).toEqual(['day before', 'morning', 'afternoon', 'no time'])
  })
})

/** What a browser would send from the form of a page, were nothing touched. */
function typedIn(html: string): Record<string, string> {
  const form = /<form class="form[\s\S]*?<\/form>/.exec(html)?.[0] ?? ''
  const fields: Record<string, string> = {}
  for (const [tag, name = ''] of form.matchAll(/<input [^>]*name="(\w+)"[^>]*>/g)) {
    if (tag.includes('type="checkbox"') && !tag.includes(' checked')) continue
    fields[name] = /value="([^"]*)"/.exec(tag)?.[1] ?? ''
  }
  for (const [, name = '', options = ''] of form.matchAll(/<select [^>]*name="(\w+)"[^>]*>([\s\S]*?)<\/select>/g))
    fields[name] = /value="([^"]*)" selected/.exec(options)?.[1] ?? ''
  for (const [, name = '', text = ''] of form.matchAll(/<textarea [^>]*name="(\w+)"[^>]*>\n([\s\S]*?)<\/textarea>/g))
    fields[name] = text
  return fields
}
