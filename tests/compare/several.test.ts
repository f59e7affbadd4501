import { describe, expect, test } from 'vitest'
import { sortRows } from '../../server/compare/several.ts'
import { makeClaim, makeOriginal } from '../support/make.ts'
import { makePiece, makeSitting } from '../support/make-piece.ts'
import { startApp } from '../support/start.ts'

function threePieces() {
  const started = startApp()
  const { db } = started
  const originalId = makeOriginal(db, { name: 'Fen band' })
  makeClaim(db, { originalId }, { value: '10', u: '0.1' })
  const wide = makePiece(db, { name: 'Wide', originalId })
  makeClaim(db, { pieceId: wide }, { value: '20', u: '0.1' })
  makeSitting(db, wide, { minutes: 90 })
  const narrow = makePiece(db, { name: 'Narrow', originalId })
  makeClaim(db, { pieceId: narrow }, { value: '9', u: '0.1' })
  const unmeasured = makePiece(db, { name: 'Unmeasured', originalId })
  return { ...started, wide, narrow, unmeasured }
}

/** Names of the pieces in the table, from above. */
const order = (html: string) =>
  [...html.matchAll(/<th scope="row"><a href="\/pieces\/\d+">([^<]+)/g)].map(([, name]) => name)

describe('GET /compare', () => {
  test('without pieces lists them all for ticking', async () => {
    const { get } = threePieces()
    const { text } = await get('/compare')
    expect(text.match(/type="checkbox"/g)).toHaveLength(3)
    expect(text).not.toContain('<table')
  })

  test('on an empty notebook says what goes here', async () => {
    expect((await startApp().get('/compare')).text).toContain('Record a piece')
  })

  test('sorts by each column both ways, with what has no value last', async () => {
    const { get, wide, narrow, unmeasured } = threePieces()
    const chosen = `/compare?piece=${unmeasured}&piece=${wide}&piece=${narrow}`
    expect(order((await get(chosen)).text)).toEqual(['Unmeasured', 'Wide', 'Narrow'])
    expect(order((await get(`${chosen}&sort=width-ratio&order=up`)).text)).toEqual(['Narrow', 'Wide', 'Unmeasured'])
    const down = await get(`${chosen}&sort=width-ratio&order=down`)
    expect(order(down.text)).toEqual(['Wide', 'Narrow', 'Unmeasured'])
    expect(down.text).toContain('aria-sort="descending"')
  })

  test('leads from each figure to where it came from', async () => {
    const { get, wide } = threePieces()
    const { text } = await get(`/compare?piece=${wide}`)
    expect(text).toMatch(new RegExp(`href="/pieces/${wide}#claim-\\d+">20 mm`))
    expect(text).toMatch(new RegExp(`href="/pieces/${wide}/compare#row-width">2.00`))
    expect(text).toContain(`href="/pieces/${wide}#sittings">1.5`)
  })

  test('has a column for each stage that took time, and no other', async () => {
    const { get, wide } = threePieces()
    const { text } = await get(`/compare?piece=${wide}`)
    expect(text).toContain('Hours: weave')
    expect(text).not.toContain('Hours: thread')
  })

  test.each(['/compare?piece=99', '/compare?piece=x', '/compare?piece=1&piece=-1'])('%s is not there', async (path) => {
    expect((await threePieces().get(path)).status).toBe(404)
  })

  test('with an unknown column keeps the order that was asked for', async () => {
    const { get, wide, narrow } = threePieces()
    const answer = await get(`/compare?piece=${wide}&piece=${narrow}&sort=constructor`)
    expect([answer.status, order(answer.text)]).toEqual([200, ['Wide', 'Narrow']])
  })
})

describe('sortRows(rows, toOrder, descending)', () => {
  test('keeps equals in their order and puts undefined last either way', () => {
    const rows = [{ id: 1, v: 2 }, { id: 2 }, { id: 3, v: 1 }, { id: 4, v: 2 }] as { id: number; v?: number }[]
    const ids = (descending: boolean) => sortRows(rows, (row) => row.v, descending).map(({ id }) => id)
    expect(ids(false)).toEqual([3, 1, 4, 2])
    expect(ids(true)).toEqual([1, 4, 3, 2])
  })
})
