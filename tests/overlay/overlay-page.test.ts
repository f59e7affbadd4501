import { expect, test } from 'vitest'
import { makeDraft, STEP } from '../draft-page/sample.ts'
import { startApp } from '../support/start.ts'

const { db, get, broken } = startApp()

test('GET /drafts/overlay lays two drafts over each other and says shift, mirror and where they differ', async () => {
  const one = makeDraft(db)
  const same = makeDraft(db, { title: 'Another name' })
  // Hole A of tablet 2 shows at pick 1 and nowhere else a tablet of this draft differs.
  const tablets = STEP.tablets.map((tablet, at) =>
    at === 1 ? { ...tablet, holes: ['w', 'm', 'w', 'w'] as const } : tablet,
  )
  const other = makeDraft(db, { title: 'One hole otherwise', tablets })
  expect((await get('/drafts/overlay')).text).toContain('Step for a hem, revision 1')
  const equal = await get(`/drafts/overlay?a=${one.revisionId}&b=${same.revisionId}`)
  expect(equal.text).toContain('All 72 cells that lie over each other show the same colour key.')
  expect(equal.text).toContain('They fit best as they are')
  const differ = await get(`/drafts/overlay?a=${one.revisionId}&b=${other.revisionId}`)
  expect(differ.text).toMatch(/\d of \d+ cells/)
  expect(differ.text).toMatch(
    /<td class="number">1<\/td><td class="number">2<\/td><td>[^]{0,120}fill="#9c3b2e"[^]{0,20} madder<\/td><td>[^]{0,120}fill="#e9dfc8"[^]{0,20} undyed<\/td>/,
  )
  expect((await get('/drafts/overlay?a=999&b=1')).status).toBe(404)
  expect((await get('/drafts/overlay?a=x')).status).toBe(404)
  const page = await get(`/drafts/${one.id}`)
  expect(page.text).toContain(`/drafts/overlay?a=${one.revisionId}`)
  expect(broken).toEqual([])
})
