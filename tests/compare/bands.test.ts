import { expect, test } from 'vitest'
import { insertDraft } from '../../server/draft/queries.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import { makePiece } from '../support/make-piece.ts'
import { makeClaim, makeOriginal } from '../support/make.ts'
import { NOW, startApp } from '../support/start.ts'

const DRAFT: Draft = {
  title: 'Plain rows',
  colours: { m: { name: 'madder', hex: '#9c3b2e' } },
  weft: 'm',
  tablets: Array.from({ length: 20 }, () => ({
    ...{ threading: 'S', start: 'A', part: 'pattern', holes: ['m', 'm', 'm', 'm'] },
  })) as Draft['tablets'],
  picks: ['20F', '20F', '20B', '20B'],
}

/** A piece with an original, both wide enough to be drawn, at so many picks per cm. */
function startPair(picksPerCm: string) {
  const { db, get, broken } = startApp()
  const originalId = makeOriginal(db)
  const { revisionId } = insertDraft(db, { draft: DRAFT, notes: '', originalId }, NOW.toISOString())
  const pieceId = makePiece(db, { originalId, draftRevisionId: revisionId })
  makeClaim(db, { originalId }, { value: '13.0', isWorking: true })
  makeClaim(db, { pieceId }, { value: '20.0', isWorking: true })
  makeClaim(db, { pieceId }, { feature: 'picksPerCm', value: picksPerCm, unit: 'perCm', isWorking: true })
  return { get, broken, pieceId }
}

test.each(['/pieces/ID/compare', '/compare?piece=ID'])(
  'GET %s with 80 000 picks per cm, a slip, draws the beginning and says so',
  async (address) => {
    const { get, broken, pieceId } = startPair('80000')
    const { text } = await get(address.replace('ID', String(pieceId))).expect(200)
    expect(text).toContain('only the first 6000 picks are drawn, more would be too heavy')
    expect(broken).toEqual([])
  },
)

test('GET /pieces/:id/compare with 8 picks per cm draws all of it', async () => {
  const { get, pieceId } = startPair('8')
  const { text } = await get(`/pieces/${pieceId}/compare`).expect(200)
  expect(text).toContain('20.0 mm wide, 8.0 picks per cm')
  expect(text).not.toContain('too heavy')
})
