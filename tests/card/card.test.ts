import request from 'supertest'
import { describe, expect, test } from 'vitest'
import { makeDraft } from '../draft-page/sample.ts'
import { startApp } from '../support/start.ts'

const sheets = (text: string) => text.match(/<table class="card/g)?.length ?? 0
const runs = (text: string) =>
  [...text.matchAll(/<p class="card-runs">(.*?)<\/p>/g)].map(([, spans]) => spans!.replace(/<[^>]*>/g, '').trim())

describe('GET /drafts/:id/revisions/:number/cards', () => {
  test('shows a threading card and the turning cards, a box for each tablet and each pick', async () => {
    const { db, get } = startApp()
    makeDraft(db)
    const { status, text } = await get('/drafts/1/revisions/1/cards?as=frame&perCard=6')
    expect(status).toBe(200)
    expect(sheets(text)).toBe(3)
    expect(text.match(/<span class="tick">/g)).toHaveLength(6 + 12)
    expect(runs(text)).toEqual(['6F', '1F 4B 1F', '6B', '1B 4F 1B'])
    expect(text).toContain('2 to 5 back')
    expect(text).toContain('Picks 1 to 6 of 12')
    expect(text).toContain('Tablet 1 is at your left.')
  })

  test('writes them in the reader’s own convention, mirrored when asked', async () => {
    const { db, get } = startApp()
    makeDraft(db, { picks: ['2F 4B', '6F'] })
    const own = '&card-forward=towards&card-count=right&card-rows=upward'
    const { text } = await get(`/drafts/1/revisions/1/cards?as=own${own}`)
    expect(runs(text)).toEqual(['6B', '4F 2B'])
    expect(text).toContain('Forward: the top edge comes towards you.')
    expect(text).toContain('Tablet 1 is at your right.')
    const mirrored = await get(`/drafts/1/revisions/1/cards?as=own&hand=mirror${own}`)
    expect(runs(mirrored.text)).toEqual(['6B', '2B 4F'])
    expect(mirrored.text).toContain('Mirrored, for the other hand')
  })

  test('counts only, when that is asked, and only the picks that are asked', async () => {
    const { db, get } = startApp()
    makeDraft(db)
    const { text } = await get('/drafts/1/revisions/1/cards?as=frame&say=counts&from=5&to=8')
    expect(text).not.toContain('2 to 5 back')
    expect(runs(text)).toEqual(['1F 4B 1F', '6B'])
    expect(text).toContain('Here are picks 5 to 8 of 12')
  })

  test('of a long draft shows a bounded part, and says so', async () => {
    const { db, get } = startApp()
    makeDraft(db, { picks: Array.from({ length: 2000 }, (_, at) => (at % 2 ? '6F' : '3F 3B')) })
    const { text } = await get('/drafts/1/revisions/1/cards')
    expect(text).toContain('Here are picks 1 to 480 of 2000; at most 480 at once.')
    const rest = await get('/drafts/1/revisions/1/cards?as=frame&from=1999')
    expect(runs(rest.text)).toHaveLength(2)
  })

  test.each([
    ['from=0', 'Please type a whole number'],
    ['from=13', 'This draft has 12 picks.'],
    ['to=99', 'This draft has 12 picks.'],
    ['from=5&to=4', 'The last pick comes before the first one.'],
    ['perCard=many', 'Please type a whole number'],
  ])('with %s says what is wrong beside the field and shows cards all the same', async (query, said) => {
    const { db, get } = startApp()
    makeDraft(db)
    const answer = await get(`/drafts/1/revisions/1/cards?as=frame&${query}`)
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(said)
    expect(sheets(answer.text)).toBeGreaterThan(1)
  })

  test('of a draft or revision that is not there is 404', async () => {
    const { db, get } = startApp()
    makeDraft(db)
    for (const path of ['/drafts/1/revisions/9/cards', '/drafts/9/revisions/1/cards', '/drafts/1/revisions/x/cards'])
      expect((await get(path)).status, path).toBe(404)
  })
})

describe('POST /drafts/:id/revisions/:number/cards', () => {
  test('remembers the choice in this browser, for the cards of every draft', async () => {
    const { app, db, post } = startApp()
    makeDraft(db)
    makeDraft(db, { picks: ['2F 4B'] })
    const fields = { as: 'own', hand: 'mirror', say: 'counts', perCard: '4', from: '1', to: '12' }
    const own = { 'card-forward': 'towards', 'card-slant': 'notStated' }
    const answer = await post('/drafts/1/revisions/1/cards', { ...fields, ...own })
    expect(answer.status).toBe(303)
    const cookie = String(answer.headers['set-cookie'])
    expect(cookie).toContain('HttpOnly; SameSite=Lax')
    const shown = await request(app).get('/drafts/2/revisions/1/cards').set('Cookie', cookie.split(';')[0]!)
    expect(runs(shown.text)).toEqual(['4F 2B'])
    expect(shown.text).toContain('As you chose before in this browser.')
    expect(shown.text).toMatch(/name="card-slant" value="notStated" checked/)
    const asked = await request(app).get('/drafts/2/revisions/1/cards?as=frame').set('Cookie', cookie.split(';')[0]!)
    expect(runs(asked.text)).toEqual(['2F 4B'])
  })

  test('with something wrong remembers nothing; a cookie that is not ours is passed over', async () => {
    const { app, db, post } = startApp()
    makeDraft(db)
    const answer = await post('/drafts/1/revisions/1/cards', { as: 'own', perCard: '999' })
    expect(answer.status).toBe(422)
    expect(answer.headers['set-cookie']).toBeUndefined()
    for (const value of ['own-99999999-mirror-places-12', 'x', '<script>', `own-${'0'.repeat(60)}`]) {
      const shown = await request(app).get('/drafts/1/revisions/1/cards').set('Cookie', `fellmark-cards=${value}`)
      expect(shown.status, value).toBe(200)
    }
  })
})
