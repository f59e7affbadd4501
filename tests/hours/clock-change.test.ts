import { describe, expect, test } from 'vitest'
import { listSittings } from '../../server/sitting/queries.ts'
import { withPiece } from '../sitting/sample.ts'
import { takeSteps, wovenFrom } from './steps.ts'

// Clock changes of 2026 by the IANA time zone database: Europe/Berlin on 29 March and 25 October at 01:00 UTC,
// America/New_York on 8 March at 07:00 UTC and 1 November at 06:00 UTC.
describe('steps through the night in which the clocks change', () => {
  test.each([
    ['Europe/Berlin', 'back', '2026-10-25T00:00:00Z', '2026-10-25T02:30:00Z', '2026-10-25', '02:00 (first) to 03:30'],
    ['Europe/Berlin', 'forward', '2026-03-29T00:00:00Z', '2026-03-29T02:30:00Z', '2026-03-29', '01:00 to 04:30'],
    [
      'America/New_York',
      'back',
      '2026-11-01T05:00:00Z',
      '2026-11-01T07:30:00Z',
      '2026-11-01',
      '01:00 (first) to 02:30',
    ],
    ['America/New_York', 'forward', '2026-03-08T06:00:00Z', '2026-03-08T08:30:00Z', '2026-03-08', '01:00 to 04:30'],
  ])('in %s, put %s, are two and a half hours', async (zone, _, from, to, day, times) => {
    const { db, get, post, pieceId } = withPiece()
    takeSteps(db, pieceId, wovenFrom(from, to, 120), { zone })
    const { text } = await get(`/pieces/${pieceId}/hours`)
    expect(text).toContain(times)
    expect(text).toContain('2 h 30 min worked, 76 picks.')
    await post(`/pieces/${pieceId}/hours/approve-all`)
    expect(listSittings(db, pieceId)).toMatchObject([{ day, zone, minutes: 150, startedAt: from, endedAt: to }])
    const opened = (await get('/sittings/1/edit')).text
    expect(opened).toContain(zone)
  })

  test('over midnight belong to the day on which they began', async () => {
    const { db, post, pieceId } = withPiece()
    takeSteps(db, pieceId, wovenFrom('2026-11-20T22:30:00Z', '2026-11-20T23:30:00Z'))
    await post(`/pieces/${pieceId}/hours/approve-all`)
    expect(listSittings(db, pieceId)).toMatchObject([{ day: '2026-11-20', minutes: 60 }])
  })
})
