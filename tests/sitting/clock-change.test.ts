import { describe, expect, test } from 'vitest'
import { findSitting } from '../../server/sitting/queries.ts'
import { TYPED, withPiece } from './sample.ts'

describe('POST /pieces/:id/sittings in the nights of the clock changes', () => {
  const AUTUMN = { ...TYPED, day: '2026-10-25', breakMinutes: '' }
  const SPRING = { ...TYPED, day: '2026-03-29', breakMinutes: '' }

  test('counts three hours from 01:30 to 03:30 in autumn, without a question', async () => {
    const { db, post, pieceId } = withPiece()
    expect((await post(`/pieces/${pieceId}/sittings`, { ...AUTUMN, start: '01:30', end: '03:30' })).status).toBe(303)
    expect(findSitting(db, 1)?.minutes).toBe(180)
  })

  test('counts one hour from 01:30 to 03:30 in spring', async () => {
    const { db, post, pieceId } = withPiece()
    await post(`/pieces/${pieceId}/sittings`, { ...SPRING, start: '01:30', end: '03:30' })
    expect(findSitting(db, 1)?.minutes).toBe(60)
  })

  test.each([
    ['first', 60],
    ['second', 120],
  ])('asks which 02:30 is meant, and %s makes %d minutes from 01:30', async (endWhich, minutes) => {
    const { db, get, post, pieceId } = withPiece()
    const typed = { ...AUTUMN, start: '1.30', end: '2.30' }
    const asked = await post(`/pieces/${pieceId}/sittings`, typed)
    expect(asked.status).toBe(422)
    expect(asked.text).toContain('02:30 came twice on 25 October 2026. Was it the first or the second?')
    expect(asked.text).toContain('the second 02:30, at UTC+01:00')
    expect(asked.text).not.toContain('name="startWhich"')
    await post(`/pieces/${pieceId}/sittings`, { ...typed, endWhich })
    expect(findSitting(db, 1)?.minutes).toBe(minutes)
    expect((await get('/sittings/1/edit')).text).toContain(`<option value="${endWhich}" selected>`)
  })

  test('asks for the end of the next morning once it is known to be the next', async () => {
    const { db, post, pieceId } = withPiece()
    const typed = { ...AUTUMN, day: '2026-10-24', start: '22:00', end: '02:15', nextDay: 'yes' }
    const asked = await post(`/pieces/${pieceId}/sittings`, typed)
    expect(asked.text).toContain('02:15 came twice on 25 October 2026')
    await post(`/pieces/${pieceId}/sittings`, { ...typed, endWhich: 'second' })
    expect(findSitting(db, 1)?.minutes).toBe(315)
  })

  test('refuses a time that the clocks went past', async () => {
    const { post, pieceId } = withPiece()
    const answer = await post(`/pieces/${pieceId}/sittings`, { ...SPRING, start: '02:30', end: '04:00' })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(
      'There was no 02:30 on 29 March 2026 in Europe/Berlin: the clocks went from 02:00 straight to 03:00.',
    )
  })
})
