import { describe, expect, test } from 'vitest'
import { findPiece, listPieceYarns } from '../../server/piece/queries.ts'
import { makePiece } from '../support/make-piece.ts'
import { startApp } from '../support/start.ts'
import { makeDraft, TYPED } from './sample.ts'

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
