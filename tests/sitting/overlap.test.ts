import { describe, expect, test } from 'vitest'
import { listSittings } from '../../server/sitting/queries.ts'
import { makePiece, makeSitting } from '../support/make-piece.ts'
import { AFTERNOON, TYPED, withPiece } from './sample.ts'

describe('POST /pieces/:id/sittings that shares time with another', () => {
  test('of the same maker names it and asks; ticked, both are kept', async () => {
    const { db, get, post, pieceId } = withPiece()
    const other = makeSitting(db, makePiece(db, { name: 'Hem band' }), { ...AFTERNOON, maker: 'runa' })
    const asked = await post(`/pieces/${pieceId}/sittings`, TYPED)
    expect(asked.status).toBe(422)
    expect(asked.text).toContain(`<a href="/sittings/${other}/edit">Hem band, 20 November 2026, 14:00 to 16:30</a>`)
    expect(asked.text).toContain('value="14:00"')
    expect((await post(`/pieces/${pieceId}/sittings`, { ...TYPED, keepBoth: String(other) })).status).toBe(303)
    expect(listSittings(db, pieceId)).toHaveLength(1)
    expect((await get('/sittings/2/edit')).text).toMatch(/name="keepBoth" value="1" checked/)
  })

  test('asks anew when the tick was given for another sitting', async () => {
    const { db, post, pieceId } = withPiece()
    makeSitting(db, pieceId, AFTERNOON)
    expect((await post(`/pieces/${pieceId}/sittings`, { ...TYPED, keepBoth: '17' })).status).toBe(422)
  })

  test('keeps the tick while another problem is mended', async () => {
    const { db, post, pieceId } = withPiece()
    makeSitting(db, pieceId, AFTERNOON)
    const answer = await post(`/pieces/${pieceId}/sittings`, { ...TYPED, keepBoth: '1', picks: 'many' })
    expect(answer.text).toContain('<input type="hidden" name="keepBoth" value="1">')
  })

  test.each([
    ['another maker', { ...AFTERNOON, maker: 'Tove' }],
    ['one that ends when this starts', { startedAt: '2026-11-20T12:00:00Z', endedAt: '2026-11-20T13:00:00Z' }],
    ['one that starts when this ends', { startedAt: '2026-11-20T15:30:00Z', endedAt: '2026-11-20T16:30:00Z' }],
    ['one without times', {}],
  ])('does not ask about %s', async (_, sitting) => {
    const { db, post, pieceId } = withPiece()
    makeSitting(db, pieceId, sitting)
    expect((await post(`/pieces/${pieceId}/sittings`, TYPED)).status).toBe(303)
  })
})
