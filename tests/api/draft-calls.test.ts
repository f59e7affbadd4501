import request from 'supertest'
import { describe, expect, test } from 'vitest'
import { startApp } from '../support/start.ts'

const { app, broken } = startApp()
const post = (path: string, body: unknown) =>
  request(app)
    .post(`/api/v1/draft/${path}`)
    .set('Host', 'localhost:4180')
    .send(body as object)

const colours = { m: { name: 'madder', hex: '#9c3b2e' }, w: { name: 'undyed', hex: '#e9dfc8' } }
const known = { threading: 'S', holes: ['m', 'm', 'w', 'w'], start: 'A' }
const DRAFT = { title: 'One', colours, weft: 'm', tablets: [known, known], picks: ['2F', '2F', '2F', '1F 1B'] }

describe('POST /api/v1/draft/infer', () => {
  test('answers with a draft, mismatches and how many are as good', async () => {
    const observed = [
      ['m', 'w'],
      ['m', null],
      ['w', 'm'],
      ['w', 'm'],
    ]
    const tablets = [known, { threading: 'Z', holes: null, start: null, part: 'border' }]
    const answer = await post('infer', { colours, tablets, observed, require: { closes: true } })
    expect(answer.status).toBe(200)
    const { draft, mismatches, perTablet } = answer.body as { draft: object; mismatches: unknown; perTablet: object[] }
    expect(mismatches).toEqual([])
    expect(draft).toMatchObject({ weft: 'm', tablets: [known, { part: 'border' }] })
    expect(perTablet[0]).toEqual({
      ...{ tablet: 1, mismatches: 0, reversals: 0, solutions: '1', threadingIsOpen: false },
      ...{ turnDiffers: [], colourDiffers: [], decides: null },
    })
    expect(Object.keys(draft)).toEqual(['title', 'colours', 'weft', 'tablets', 'picks'])
  })

  test('takes slants as evidence, and a draft that it answers with can be woven', async () => {
    const body = { colours, tablets: [known], observed: [['m'], ['m']], observedSlant: [['/'], [null]], require: {} }
    const found = await post('infer', body)
    expect(found.body.perTablet).toMatchObject([{ mismatches: 0, solutions: '1' }])
    const woven = await post('weave', found.body.draft)
    expect(woven.body).toMatchObject({ face: [['m'], ['m']], slant: ['/', '/'] })
  })

  test.each([
    [{ observed: [['m'], ['m'], ['m']], require: { twistNeutral: true } }, 422, 'require.twistNeutral'],
    [{ observed: [['m'], ['m', 'w']] }, 422, 'observed'],
    [{ observed: [['q']] }, 422, 'observed[0][0]'],
    [{ observed: [['m']], observedSlant: [['x']] }, 422, 'observedSlant[0][0]'],
    [{ observed: [['m'], ['m'], ['m'], ['m']], require: { longestFloat: 1 } }, 422, 'require'],
    [{ observed: [['m']], wish: 1 }, 422, 'wish'],
    [{ observed: Array(5001).fill(Array(200).fill('m')) as string[][] }, 413, 'observed'],
  ])('refuses %# with its path', async (changes, status, path) => {
    const answer = await post('infer', { colours, tablets: [known], require: {}, ...changes })
    expect([answer.status, answer.body.errors[0].path]).toEqual([status, path])
    expect(answer.headers['content-type']).toContain('application/problem+json')
  })

  test('goes on when whoever asked has gone', async () => {
    const observed = Array.from({ length: 600 }, (_, pick) => Array(100).fill(pick % 3 ? 'm' : 'w') as string[])
    const tablets = Array(100).fill({ threading: null, holes: null, start: null }) as object[]
    const slow = post('infer', { colours, tablets, observed, require: { twistNeutral: true } })
    const left = slow.then(
      () => 'answered',
      () => 'left',
    )
    setTimeout(() => void slow.abort(), 300)
    expect(await Promise.race([left, new Promise((resolve) => setTimeout(() => resolve('left'), 2000))])).toBe('left')
    const next = await post('infer', { colours, tablets: [known], observed: [['m']], require: {} })
    expect(next.status).toBe(200)
  })
})

test('POST /api/v1/draft/compare lays drafts and observed grids over each other, and names the side at fault', async () => {
  const moved = await post('compare', {
    a: DRAFT,
    b: [
      ['w', 'w'],
      ['w', null],
    ],
  })
  expect(moved.body).toMatchObject({ cells: 3, equal: 3, agreement: 1, shift: 2, mirrored: false, differing: [] })
  const itself = await post('compare', { a: DRAFT, b: DRAFT })
  expect(itself.body).toMatchObject({ cells: 8, equal: 8, shift: 0 })
  const long = Array.from({ length: 1500 }, (_, pick) => ['m', pick % 7 ? 'm' : 'w'])
  const far = await post('compare', { a: long, b: long.slice(3) })
  expect(far.body).toMatchObject({ equal: 2994, shift: 3 })
  for (const [body, path] of [
    [{ a: DRAFT }, 'b'],
    [{ a: { ...DRAFT, picks: ['3F'] }, b: [['m']] }, 'a.picks[0]'],
    [{ a: [['m']], b: [['m'], []] }, 'b[1]'],
    [{ a: [['m']], b: [['m'], ['m', 'w']] }, 'b[1]'],
  ] as const) {
    const refused = await post('compare', body)
    expect([refused.status, refused.body.errors[0].path]).toEqual([422, path])
  }
})

test('POST /api/v1/draft/recover answers with verdict and correction, and refuses a pick that is not there', async () => {
  const seen = { draft: DRAFT, pick: 1, tablet: 2 }
  const answer = await post('recover', { ...seen, topNear: 'D', topFar: 'C' })
  expect(answer.body).toMatchObject({
    ...{ expected: { topNear: 'B', topFar: 'A' }, verdict: 'turnedTheOtherWay', correction: 2 },
  })
  const refused = await post('recover', { ...seen, pick: 9, topNear: 'D', topFar: 'C' })
  expect([refused.status, refused.body.errors[0].path]).toEqual([422, 'pick'])
  const wrong = await post('recover', { ...seen, topNear: 'E', topFar: 'C' })
  expect([wrong.status, wrong.body.errors[0].path]).toEqual([422, 'topNear'])
})

test('GET /api/v1/openapi.json describes these calls, and nothing broke', async () => {
  const { body } = await request(app).get('/api/v1/openapi.json').set('Host', 'localhost:4180')
  for (const path of ['/draft/infer', '/draft/compare', '/draft/recover']) {
    expect(body.paths[path].post.requestBody.content['application/json'].schema.type).toBe('object')
  }
  expect(broken).toEqual([])
})
