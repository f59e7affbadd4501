import { expect, test } from 'vitest'
import { insertDraft } from '../../server/draft/queries.ts'
import { listRevisions } from '../../server/draft/revision-queries.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import { startApp } from '../support/start.ts'

const DRAFT: Draft = {
  title: 'Two cords',
  colours: { m: { name: 'madder', hex: '#9c3b2e' } },
  weft: 'm',
  tablets: [
    { threading: 'S', holes: ['m', 'm', 'm', 'm'], start: 'A', part: 'pattern' },
    { threading: 'Z', holes: ['m', 'm', 'm', 'm'], start: 'A', part: 'pattern' },
  ],
  picks: ['2F'],
}
const typed = (turning: string) => ({
  ...{ colours: 'm madder #9c3b2e', weft: 'm', threading: 'S m m m m\nZ m m m m', turning, note: turning },
})

test('POST /drafts/:id/revisions from a form that was opened before another revision asks first, then keeps both', async () => {
  const { db, get, post } = startApp()
  const { id } = insertDraft(db, { draft: DRAFT, notes: '', originalId: undefined }, '2026-11-24T12:00:00.000Z')
  expect((await get(`/drafts/${id}/edit`)).text).toContain('revisions?from&#x3D;1&amp;newest&#x3D;1')
  expect((await post(`/drafts/${id}/revisions?from=1&newest=1`, typed('2F\n2B'))).status).toBe(303)
  const stale = await post(`/drafts/${id}/revisions?from=1&newest=1`, typed('1F 1B'))
  expect(stale.status).toBe(409)
  expect(stale.text).toContain('Revision 2 was saved while your form stood open')
  expect(stale.text).toContain('1F 1B')
  expect(listRevisions(db, id)).toHaveLength(2)
  expect((await post(`/drafts/${id}/revisions?from=1&newest=2`, typed('1F 1B'))).status).toBe(303)
  expect(listRevisions(db, id).map(({ note }) => note)).toEqual(['1F 1B', '2F\n2B', ''])
})
