import { expect, test } from 'vitest'
import { makeDraft } from '../draft-page/sample.ts'
import { startApp } from '../support/start.ts'

const { db, get, broken } = startApp()
const { id } = makeDraft(db)
const at = (query: string) => get(`/drafts/${id}/revisions/1/recover${query}`)

test('GET /drafts/:id/revisions/:number/recover asks, and answers each slip in words', async () => {
  expect((await at('')).status).toBe(200)
  // Tablet 2 of the sample starts at A and turns forward four times: after pick 1 B is at top-near, A behind it.
  const answer = async (query: string) => (await at(`?pick=1&tablet=2&${query}`)).text
  expect(await answer('topNear=B&topFar=A')).toContain('It stands right.')
  expect(await answer('topNear=A&topFar=D')).toContain('Turn tablet 2 a quarter turn forward now')
  expect(await answer('topNear=C&topFar=B')).toContain('Turn tablet 2 a quarter turn back now')
  const other = await answer('topNear=D&topFar=C')
  for (const words of [
    'Turn tablet 2 half a turn forward (2 quarter turns) now, before the next pick.',
    'Tablet 2 was turned the other way at pick 1.',
    'For a clean face unweave 1 pick',
    'the face is right again from pick 2 on. Pick 1 then shows undyed instead of madder.',
  ]) {
    expect(other).toContain(words)
  }
  expect(await answer('topNear=A&topFar=B')).toContain('Please look again.')
  const older = (await at('?pick=4&tablet=2&topNear=C&topFar=B&rightUntil=1')).text
  expect(older).toContain('unweave 3 picks')
})

test('GET /drafts/:id/revisions/:number/recover shows the form again with what was typed, and knows what is not there', async () => {
  const again = await at('?pick=99&tablet=x&topNear=A&topFar=&rightUntil=')
  expect(again.status).toBe(422)
  for (const words of ['value="99"', 'Please type a whole number from 1 to 12.', 'Please say which letter is there.']) {
    expect(again.text).toContain(words)
  }
  expect((await at('?pick=2&tablet=2&topNear=A&topFar=D&rightUntil=2')).text).toContain('Please type a pick before 2')
  expect((await get(`/drafts/${id}/revisions/9/recover`)).status).toBe(404)
  expect((await get('/drafts/99/revisions/1/recover')).status).toBe(404)
  expect(broken).toEqual([])
})
