import { describe, expect, test } from 'vitest'
import { findSitting, listSittings } from '../../server/sitting/queries.ts'
import { makePiece, makeSitting } from '../support/make-piece.ts'
import { startApp } from '../support/start.ts'
import { withPiece } from '../sitting/sample.ts'
import { takeSteps, wovenFrom } from './steps.ts'

const MORNING = wovenFrom('2026-11-20T09:00:10Z', '2026-11-20T09:40:10Z')

/** Keys of the proposals on the page of hours, in order. */
function keysIn(html: string): string[] {
  return [...html.matchAll(/name="key" value="([^"]*)"/g)].map(([, key = '']) => key)
}

describe('GET /pieces/:id/hours', () => {
  test('shows the sittings that the steps tell, and counts none of them yet', async () => {
    const { db, get, pieceId } = withPiece()
    takeSteps(db, pieceId, MORNING)
    const { text } = await get(`/pieces/${pieceId}/hours`)
    expect(text).toContain('<strong>Weave</strong>, 20 November 2026, 10:00 to 10:40')
    expect(text).toContain('40 min worked, 41 picks.')
    expect(text).toContain('No sittings yet.')
    expect((await get(`/pieces/${pieceId}`)).text).toContain('1 sitting waits to be approved')
  })

  test('says of a sitting whose last step was just taken that it may go on, and of one noted by its minutes that it may be the same', async () => {
    const { db, get, post, pieceId } = withPiece()
    makeSitting(db, pieceId, { day: '2026-11-20', minutes: 50 })
    takeSteps(db, pieceId, MORNING)
    takeSteps(db, pieceId, wovenFrom('2026-11-24T11:20:00Z', '2026-11-24T11:50:00Z'), { place: 41 })
    const { text } = await get(`/pieces/${pieceId}/hours`)
    expect(text).toContain('it may still go on')
    expect(text).toContain('A sitting of 50 min is noted on that day without its times: is it the same work?')
    expect(text).not.toContain('Approve all')
    await post(`/pieces/${pieceId}/hours/approve-all`)
    expect(listSittings(db, pieceId)).toHaveLength(1)
  })

  test.each(['/pieces/9/hours', '/pieces/x/hours', '/pieces/9/hours.csv'])('%s is not there', async (path) => {
    expect((await startApp().get(path)).status).toBe(404)
  })
})

describe('POST /pieces/:id/hours/approve', () => {
  test('keeps the sitting with the steps it came from, and proposes it no more', async () => {
    const { db, get, post, pieceId } = withPiece()
    takeSteps(db, pieceId, MORNING)
    const [key = ''] = keysIn((await get(`/pieces/${pieceId}/hours`)).text)
    const answer = await post(`/pieces/${pieceId}/hours/approve`, { key, start: '10:00' })
    expect(answer.headers.location).toBe(`/pieces/${pieceId}/hours?done=approved#proposals`)
    const span = { startedAt: '2026-11-20T09:00:00Z', endedAt: '2026-11-20T09:40:00Z' }
    expect(listSittings(db, pieceId)).toMatchObject([
      {
        ...{ stage: 'weave', maker: 'Runa', zone: 'Europe/Berlin', day: '2026-11-20', ...span, minutes: 40, picks: 41 },
        ...{ origin: 'steps', steps: { from: '2026-11-20T09:00:10.000Z', to: '2026-11-20T09:40:10.000Z' } },
        said: { stage: 'weave', ...span, breakMinutes: 0, picks: 41 },
      },
    ])
    const { text } = await get(`/pieces/${pieceId}/hours`)
    expect(keysIn(text)).toEqual([])
    expect(text).toContain('from the steps')
    expect((await post(`/pieces/${pieceId}/hours/approve`, { key, start: '10:00' })).status).toBe(409)
    expect(listSittings(db, pieceId)).toHaveLength(1)
  })

  test('with an earlier beginning leads to the form, and keeps beside it what the steps said', async () => {
    const { db, get, post, pieceId } = withPiece()
    takeSteps(db, pieceId, MORNING)
    const [key = ''] = keysIn((await get(`/pieces/${pieceId}/hours`)).text)
    const asked = await post(`/pieces/${pieceId}/hours/approve`, { key, start: '09:50' })
    const { text } = await get(String(asked.headers.location))
    expect(text).toContain('value="09:50"')
    expect(text).toContain('The steps said 10:00 to 10:40, weave, no breaks, 41 picks.')
    const typed = { ...formOf(text), start: '09:50', breakMinutes: '5' }
    expect((await post(`/pieces/${pieceId}/sittings`, { ...typed, end: 'late' })).text).toContain(`value="${key}"`)
    expect((await post(`/pieces/${pieceId}/sittings`, typed)).status).toBe(303)
    expect(findSitting(db, 1)).toMatchObject({
      ...{ minutes: 50, breakMinutes: 5, origin: 'steps' },
      said: { startedAt: '2026-11-20T09:00:00Z', breakMinutes: 0 },
    })
    const hours = (await get(`/pieces/${pieceId}/hours`)).text
    expect(hours).toContain('The steps said 10:00 to 10:40')
    expect(keysIn(hours)).toEqual([])
    expect((await get('/sittings/1/edit')).text).toContain('The steps said 10:00 to 10:40')
  })

  test('goes on where the last sitting from the steps ended, when more steps come', async () => {
    const { db, get, post, pieceId } = withPiece()
    takeSteps(db, pieceId, MORNING)
    const [key = ''] = keysIn((await get(`/pieces/${pieceId}/hours`)).text)
    await post(`/pieces/${pieceId}/hours/approve`, { key })
    takeSteps(db, pieceId, wovenFrom('2026-11-20T09:41:10Z', '2026-11-20T10:00:10Z'), { place: 41 })
    const { text } = await get(`/pieces/${pieceId}/hours`)
    expect(text).toContain('10:40 to 11:00')
    await post(`/pieces/${pieceId}/hours/approve`, { key: keysIn(text)[0] ?? '' })
    expect(listSittings(db, pieceId).map(({ minutes, picks }) => [minutes, picks])).toEqual([
      [40, 41],
      [20, 20],
    ])
  })
})

test('POST /pieces/:id/hours/approve-all keeps weaving and unweaving apart, and the stages add up to the hours', async () => {
  const { db, get, post, pieceId } = withPiece()
  takeSteps(db, pieceId, [
    ...MORNING,
    ['2026-11-20T09:41:10Z', 'unwoven'],
    ['2026-11-20T09:42:10Z', 'unwoven'],
    ...wovenFrom('2026-11-20T09:43:10Z', '2026-11-20T10:00:10Z'),
  ])
  await post(`/pieces/${pieceId}/hours/approve-all`)
  expect(listSittings(db, pieceId).map(({ stage, minutes, picks }) => [stage, minutes, picks])).toEqual([
    ['weave', 40, 41],
    ['unweave', 2, 2],
    ['weave', 18, 18],
  ])
  expect((await get(`/pieces/${pieceId}/hours`)).text).toMatch(
    /All stages<\/th><td class="number">3<\/td><td class="number">1 h</,
  )
})

describe('sittings that share time with the steps', () => {
  test('of the same maker at another piece keep their minutes: what is proposed lies around them', async () => {
    const { db, get, post, pieceId } = withPiece()
    const other = makePiece(db, { name: 'Hem band' })
    const span = { startedAt: '2026-11-20T09:10:00Z', endedAt: '2026-11-20T09:20:00Z', minutes: 10 }
    makeSitting(db, other, span)
    takeSteps(db, pieceId, MORNING)
    await post(`/pieces/${pieceId}/hours/approve-all`)
    expect(listSittings(db, pieceId).map(({ minutes }) => minutes)).toEqual([10, 20])
    expect((await get('/hours.csv')).text).toContain('Hem band')
  })

  test('typed over an approved one asks, as any other does; kept, the page says how much stands twice', async () => {
    const { db, get, post, pieceId } = withPiece()
    takeSteps(db, pieceId, MORNING)
    await post(`/pieces/${pieceId}/hours/approve`, {
      key: keysIn((await get(`/pieces/${pieceId}/hours`)).text)[0] ?? '',
    })
    makeSitting(db, pieceId, { startedAt: '2026-11-20T09:30:00Z', endedAt: '2026-11-20T10:00:00Z', minutes: 30 })
    const { text } = await get(`/pieces/${pieceId}/hours`)
    expect(text).toContain('10 min stand in two sittings of the same maker')
    expect(text).toContain('10 min stand in another sitting too.')
  })
})

describe('POST /pieces/:id/hours/leave-out', () => {
  test('proposes these steps no more until they are taken back', async () => {
    const { db, get, post, pieceId } = withPiece()
    takeSteps(db, pieceId, MORNING)
    const [key = ''] = keysIn((await get(`/pieces/${pieceId}/hours`)).text)
    await post(`/pieces/${pieceId}/hours/leave-out`, { key })
    const without = (await get(`/pieces/${pieceId}/hours`)).text
    expect(keysIn(without)).toEqual([])
    expect(without).toContain('Steps left out')
    expect(listSittings(db, pieceId)).toEqual([])
    await post(`/pieces/${pieceId}/hours/take-back`, { entry: '1' })
    expect(keysIn((await get(`/pieces/${pieceId}/hours`)).text)).toEqual([key])
    expect((await post(`/pieces/${pieceId}/hours/take-back`, { entry: '1' })).status).toBe(409)
  })
})

describe('POST /pieces/:id/hours/limits', () => {
  const told = [
    ...wovenFrom('2026-11-20T09:00:00Z', '2026-11-20T09:10:00Z'),
    ['2026-11-20T09:18:00Z', 'woven'],
  ] as const

  test('says how long a gap is a break, for the piece or for all that have no limits of their own', async () => {
    const { db, get, post, pieceId } = withPiece()
    const other = makePiece(db, { name: 'Hem band' })
    for (const id of [pieceId, other]) takeSteps(db, id, told)
    const times = async (id: number) =>
      /2026, (1\d:\d\d to 1\d:\d\d)/.exec((await get(`/pieces/${id}/hours`)).text)?.[1]
    expect(await times(pieceId)).toBe('10:00 to 10:10')
    await post(`/pieces/${pieceId}/hours/limits`, { breakMinutes: '10', endMinutes: '60' })
    expect([await times(pieceId), await times(other)]).toEqual(['10:00 to 10:18', '10:00 to 10:10'])
    await post(`/pieces/${pieceId}/hours/limits`, { breakMinutes: '9', endMinutes: '60', forAll: 'yes' })
    expect([await times(pieceId), await times(other)]).toEqual(['10:00 to 10:18', '10:00 to 10:18'])
  })

  test.each([
    [{ breakMinutes: '', endMinutes: '90' }, 'Please give the minutes.'],
    [{ breakMinutes: '0', endMinutes: '90' }, 'Please type a whole number from 1 to 60.'],
    [{ breakMinutes: '30', endMinutes: '20' }, 'This must not be less than 30.'],
  ])('refuses %o and shows the form again with what was typed', async (typed, sentence) => {
    const { post, pieceId } = withPiece()
    const answer = await post(`/pieces/${pieceId}/hours/limits`, typed)
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(sentence)
    expect(answer.text).toContain(`name="endMinutes" type="text" value="${typed.endMinutes}"`)
  })
})

describe('GET /pieces/:id/hours.csv', () => {
  test('has instants in UTC and local with their offset, and no cell that a spreadsheet would take for a formula', async () => {
    const { db, get, pieceId } = withPiece()
    const night = { day: '2026-10-25', startedAt: '2026-10-25T00:30:00Z', endedAt: '2026-10-25T01:30:00Z', minutes: 60 }
    makeSitting(db, pieceId, { ...night, breakMinutes: 15, note: '=1+1' })
    const { text, headers } = await get(`/pieces/${pieceId}/hours.csv`)
    expect(headers['content-disposition']).toContain(`hours-${pieceId}.csv`)
    const [head = '', row = ''] = text.trim().split('\r\n')
    const cells = Object.fromEntries(head.split(',').map((name, at) => [name, row.split(',')[at]]))
    expect(cells).toMatchObject({
      ...{ 'start UTC': '2026-10-25T00:30:00Z', 'start local': '2026-10-25T02:30:00+02:00' },
      ...{ 'end local': '2026-10-25T02:30:00+01:00', zone: 'Europe/Berlin', minutes: '60', 'break minutes': '15' },
      ...{ 'worked minutes': '45', origin: 'by hand', note: "'=1+1" },
    })
  })
})

/** What a browser would send from the form of a sitting. */
function formOf(html: string): Record<string, string> {
  const form = /<form class="form sitting-form[\s\S]*?<\/form>/.exec(html)?.[0] ?? ''
  const fields: Record<string, string> = {}
  for (const [tag, name = ''] of form.matchAll(/<input [^>]*name="(\w+)"[^>]*>/g))
    if (!tag.includes('checkbox') || tag.includes(' checked')) fields[name] = /value="([^"]*)"/.exec(tag)?.[1] ?? ''
  for (const [, name = '', options = ''] of form.matchAll(/<select [^>]*name="(\w+)"[^>]*>([\s\S]*?)<\/select>/g))
    fields[name] = /value="([^"]*)" selected/.exec(options)?.[1] ?? ''
  return fields
}
