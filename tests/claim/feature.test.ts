import { describe, expect, test } from 'vitest'
import { makePiece } from '../support/make-piece.ts'
import { makeOriginal } from '../support/make.ts'
import { startApp } from '../support/start.ts'

describe('POST /features', () => {
  test('adds the feature and shows it in the list', async () => {
    const { get, post } = startApp()
    expect((await post('/features', { label: 'Fringe length', kind: 'length' })).headers.location).toBe(
      '/features?done=saved',
    )
    expect((await get('/features')).text).toContain('Fringe length')
  })

  test('for an original or a piece leads on to its claim', async () => {
    const { db, get, post } = startApp()
    makeOriginal(db)
    makePiece(db)
    const answer = await post('/features', { label: 'Fringe length', kind: 'length', original: '1' })
    expect(answer.headers.location).toBe('/originals/1/claims/new?feature=own-fringe-length')
    expect((await get('/originals/1/claims/new?feature=own-fringe-length')).text).toContain('fringe length of Fen band')
    const second = await post('/features', { label: 'Knots', kind: 'count', piece: '1' })
    expect(second.headers.location).toBe('/pieces/1/claims/new?feature=own-knots')
  })

  test.each([
    ['', 'length', 'Please name the feature'],
    ['WIDTH', 'length', 'There is a feature of this name already.'],
    ['Smell', 'litre', 'Please choose what is stated'],
  ])('with "%s" and %s shows the form again with what was typed', async (label, kind, sentence) => {
    const { db, post } = startApp()
    makeOriginal(db)
    const answer = await post('/features', { label, kind, original: '1' })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(sentence)
    expect(answer.text).toContain(`value="${label}"`)
    expect(answer.text).toContain('name="original" value="1"')
  })

  test.each(['9', 'nine'])('for an original %s that is not there is refused', async (original) => {
    const { get, post } = startApp()
    expect((await post('/features', { label: 'Knots', kind: 'count', original })).status).toBe(404)
    expect((await get(`/features/new?original=${original}`)).status).toBe(404)
  })
})
