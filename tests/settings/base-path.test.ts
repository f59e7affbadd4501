import request from 'supertest'
import { afterAll, describe, expect, test } from 'vitest'
import { createApp } from '../../server/app.ts'
import { createPages } from '../../server/pages.ts'
import { makeDataDir, migratedDb, NOW, ZONE } from '../support/start.ts'

const BASE = 'http://localhost:4180/bands'

const broken: unknown[] = []
afterAll(() => expect(broken).toEqual([]))

function behindProxy(baseUrl = BASE) {
  const page = createPages(new URL(baseUrl).pathname)
  return createApp({
    isLoopback: true,
    db: migratedDb(),
    dataDir: makeDataDir(),
    page,
    now: () => NOW,
    zone: ZONE,
    baseUrl,
    onBroken: (error) => void broken.push(error),
  })
}

describe('createApp({ baseUrl }) with a path', () => {
  const app = behindProxy()
  const get = (path: string) => request(app).get(path).set('Host', 'localhost:4180')

  test.each(['/bands/sources/new', '/bands/sources', '/bands/', '/bands/search?q=wool'])(
    'keeps every own link of %s below the path',
    async (path) => {
      const answer = await get(path)
      expect(answer.status).toBe(200)
      const own = [...answer.text.matchAll(/ (?:href|src|action)="(\/[^"]*)"/g)].map(([, address]) => address)
      expect(own.length).toBeGreaterThan(5)
      expect(own.filter((address) => !address?.startsWith('/bands/'))).toEqual([])
    },
  )

  test('serves its assets below the path', async () => {
    const style = /href="([^"]*style\.css[^"]*)"/
      .exec((await get('/bands/sources/new')).text)?.[1]
      ?.replace('&#x3D;', '=')
    expect(style).toMatch(/^\/bands\/assets\/style\.css\?v=[0-9a-f]{12}$/)
    expect((await get(style ?? '')).headers['content-type']).toContain('text/css')
  })

  test('redirects below the path', async () => {
    const answer = await request(app)
      .post('/bands/sources')
      .set('Host', 'localhost:4180')
      .set('Origin', 'http://localhost:4180')
      .type('form')
      .send({ title: 'Bands of the Fen', kind: 'book' })
    expect(answer.status).toBe(303)
    expect(answer.headers.location).toBe('/bands/sources/1?done=saved')
  })

  test('answers nothing outside the path', async () => {
    expect((await get('/sources/new')).status).toBe(404)
    expect((await get('/bandsaw')).status).toBe(404)
  })
})

describe('createApp({ baseUrl }) with a public name', () => {
  const app = behindProxy('https://bands.example.org/shelf')

  test('answers its own public name and takes forms from its public origin', async () => {
    const post = (origin: string) =>
      request(app)
        .post('/shelf/sources')
        .set('Host', 'bands.example.org')
        .set('Origin', origin)
        .type('form')
        .send({ title: 'Bands of the Fen', kind: 'book' })
    expect((await post('https://bands.example.org')).status).toBe(303)
    expect((await post('https://other.example.org')).status).toBe(403)
  })
})
