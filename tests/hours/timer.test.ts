import { describe, expect, test } from 'vitest'
import { findTimer } from '../../server/hours/timer-queries.ts'
import { findSitting, listSittings } from '../../server/sitting/queries.ts'
import { makePiece } from '../support/make-piece.ts'
import { startApp } from '../support/start.ts'

/** The program with one piece and a clock of the machine that can be set. */
function withClock(at: string) {
  let now = new Date(at)
  const started = startApp(undefined, undefined, undefined, () => now)
  return { ...started, pieceId: makePiece(started.db), setClock: (to: string) => void (now = new Date(to)) }
}

describe('the running clock', () => {
  test('starts, pauses, goes on and stops, and becomes a sitting with its pauses for breaks', async () => {
    const { db, get, post, pieceId, setClock } = withClock('2026-11-24T09:00:00Z')
    expect((await post(`/pieces/${pieceId}/timer`, { stage: 'thread' })).headers.location).toBe(
      `/pieces/${pieceId}/hours#clock`,
    )
    setClock('2026-11-24T09:20:00Z')
    expect((await get('/')).text).toContain('Running: Thread the tablets at')
    await post('/timer/pause', { back: `/pieces/${pieceId}` })
    setClock('2026-11-24T09:35:00Z')
    expect((await get(`/pieces/${pieceId}`)).text).toMatch(
      /Paused: Thread the tablets[\s\S]*since 10:00, <span>20 min</,
    )
    await post('/timer/resume')
    setClock('2026-11-24T10:00:00Z')
    const stopped = await post('/timer/stop')
    expect(stopped.headers.location).toBe(`/pieces/${pieceId}/sittings/new?timer=1`)
    const { text } = await get(String(stopped.headers.location))
    expect(text).toContain('The clock said 10:00 to 11:00, thread the tablets, breaks 15 min.')
    const typed = { stage: 'thread', day: '2026-11-24', start: '10:00', end: '11:00', breakMinutes: '15', timer: '1' }
    const zone = { zone: 'Europe/Berlin', maker: 'Runa', lengthUnit: 'cm' }
    expect((await post(`/pieces/${pieceId}/sittings`, { ...typed, ...zone })).status).toBe(303)
    expect(findSitting(db, 1)).toMatchObject({
      minutes: 60,
      breakMinutes: 15,
      origin: 'timer',
      said: { breakMinutes: 15 },
    })
    expect(findTimer(db)).toBeUndefined()
    expect((await post(`/pieces/${pieceId}/sittings`, { ...typed, ...zone })).status).toBe(409)
  })

  test('is one at a time, and a stopped one waits until it is kept or thrown away', async () => {
    const { db, get, post, pieceId, setClock } = withClock('2026-11-24T09:00:00Z')
    await post(`/pieces/${pieceId}/timer`, { stage: 'wind' })
    expect((await post(`/pieces/${pieceId}/timer`, { stage: 'thread' })).status).toBe(409)
    setClock('2026-11-24T09:10:00Z')
    await post('/timer/stop')
    setClock('2026-11-24T11:00:00Z')
    expect((await get(`/pieces/${pieceId}/hours`)).text).toContain('Timed: Wind the warp')
    expect((await post(`/pieces/${pieceId}/timer`, { stage: 'thread' })).status).toBe(409)
    const gone = await post('/timer/discard', { back: 'https://elsewhere.example/' })
    expect(gone.headers.location).toBe('/')
    expect(findTimer(db)).toBeUndefined()
    expect(listSittings(db, pieceId)).toEqual([])
  })

  test.each([
    ['2026-10-25T00:00:00Z', '2026-10-25T02:00:00Z', '2 h'],
    ['2026-03-29T00:30:00Z', '2026-03-29T01:30:00Z', '1 h'],
  ])('from %s to %s counts what passed, whatever the clocks of the place did: %s', async (from, to, worked) => {
    const { get, post, pieceId, setClock } = withClock(from)
    await post(`/pieces/${pieceId}/timer`, { stage: 'finish' })
    setClock(to)
    expect((await get('/')).text).toContain(`>${worked}</span>`)
  })

  test('never counts below nothing when the clock of the machine is put back', async () => {
    const { get, post, pieceId, setClock } = withClock('2026-11-24T09:00:00Z')
    await post(`/pieces/${pieceId}/timer`, { stage: 'finish' })
    setClock('2026-11-24T08:00:00Z')
    expect((await get('/')).text).toContain('>0 min</span>')
    expect((await post('/timer/stop')).status).toBe(303)
  })

  test.each(['pause', 'resume', 'stop', 'discard'])('POST /timer/%s without a clock changes nothing', async (what) => {
    expect((await startApp().post(`/timer/${what}`)).headers.location).toBe('/')
  })

  test('refuses a stage that is none, and a piece that is not there', async () => {
    const { post, pieceId } = withClock('2026-11-24T09:00:00Z')
    expect((await post(`/pieces/${pieceId}/timer`, { stage: 'nap' })).status).toBe(400)
    expect((await post('/pieces/77/timer', { stage: 'wind' })).status).toBe(404)
  })
})
