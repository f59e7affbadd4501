import { describe, expect, test } from 'vitest'
import { listDecisions } from '../../server/decision/queries.ts'
import { makeDecision, makeOriginal, makePiece } from '../support/rows.ts'
import { startApp } from '../support/start.ts'

const TYPED = {
  ...{ question: 'Which way round?', decided: 'Red above.', evidence: 'Plate 3, by the slant.' },
  ...{ considered: 'Yellow above: the edge would lie on the other side.', onDay: '2026-11-20', decidedBy: 'Runa' },
}

describe('decisions', () => {
  test.each(['original', 'piece'] as const)('about an %s are kept, shown, changed and thrown away', async (noun) => {
    const { db, get, post } = startApp()
    const id = noun === 'original' ? makeOriginal(db) : makePiece(db)
    const shown = noun === 'original' ? `/originals/${id}` : `/pieces/${id}/fidelity`
    expect((await get(`/${noun}s/${id}/decisions/new`)).text).toContain('value="2026-11-24"')
    const kept = await post(`/${noun}s/${id}/decisions`, TYPED)
    expect(kept.headers.location).toBe(`${shown}?done=saved#decision-1`)
    const { text } = await get(shown)
    for (const words of ['Which way round?', 'Red above.', '20 November 2026, by Runa']) expect(text).toContain(words)
    await post('/decisions/1', { ...TYPED, decided: 'Yellow above.', version: '1' })
    expect(listDecisions(db, { noun, id })).toMatchObject([{ decided: 'Yellow above.' }])
    expect((await get(`/${noun}s/${id}/history`)).text).toContain('Yellow above.')
    await post('/decisions/1/delete', {})
    expect(listDecisions(db, { noun, id })).toEqual([])
    await post('/bin/decision/1/restore', {})
    expect(listDecisions(db, { noun, id })).toHaveLength(1)
  })

  test('that say nothing come back with a sentence beside each field', async () => {
    const { db, post } = startApp()
    const id = makePiece(db)
    const answer = await post(`/pieces/${id}/decisions`, { ...TYPED, question: '', decided: '', onDay: '' })
    expect(answer.status).toBe(422)
    for (const words of ['what had to be decided', 'what was decided', 'Please give the day', 'Plate 3, by the slant.'])
      expect(answer.text).toContain(words)
  })

  test('changed meanwhile come back as both texts', async () => {
    const { db, post } = startApp()
    const id = makeDecision(db, { piece_id: makePiece(db) })
    await post(`/decisions/${id}`, { ...TYPED, version: '1' })
    const stale = await post(`/decisions/${id}`, { ...TYPED, decided: 'Neither.', version: '1' })
    expect(stale.status).toBe(409)
    expect(stale.text).toContain('Red above.')
    expect(stale.text).toContain('Neither.')
  })
})
