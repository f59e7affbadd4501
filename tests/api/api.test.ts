import request from 'supertest'
import { describe, expect, test } from 'vitest'
import { startApp } from '../support/start.ts'

const HOST = 'localhost:4180'
const { app, broken } = startApp()
const post = (path: string, body: unknown) =>
  request(app)
    .post(`/api/v1${path}`)
    .set('Host', HOST)
    .send(body as object)

const DRAFT = {
  title: 'Two tablets',
  colours: { m: { name: 'madder', hex: '#9c3b2e' }, w: { name: 'undyed', hex: '#e9dfc8' } },
  weft: 'm',
  tablets: [
    { threading: 'S', holes: ['m', 'm', 'w', 'w'] },
    { threading: 'Z', holes: ['m', 'w', null, 'w'], start: 'B', part: 'border' },
  ],
  picks: ['2F', '1F 1B', '1I 1(2F)'],
}

describe('POST /api/v1/draft/weave', () => {
  test('answers with every field of the design, computed by hand here', async () => {
    const answer = await post('/draft/weave', DRAFT)
    expect(answer.status).toBe(200)
    // Tablet 1 from A: forward shows A, forward shows B, idle shows B again. Tablet 2 from B: forward shows B; back shows
    // hole o = 1, B; a half turn forward from o = 1 to 3 shows hole 2, C, which is empty. Thread B of tablet 1 is up in
    // all three picks, D is down.
    expect(answer.body).toMatchObject({
      tablets: 2,
      picks: 3,
      face: [
        ['m', 'w'],
        ['m', 'w'],
        ['m', null],
      ],
      reverse: [
        ['w', 'w'],
        ['w', 'w'],
        ['w', 'm'],
      ],
      slant: ['/\\', '//', '.\\'],
      net: [2, 2],
      twistNeutral: false,
      closesAfter: 2,
      longestFloat: { face: 3, reverse: 3 },
      reversals: [0, 2],
      packs: [[1], [2]],
      distinctPicks: 3,
      parity: false,
      floats: [],
    })
  })

  test('with a pick that does not add up refuses it with the pick', async () => {
    const answer = await post('/draft/weave', { ...DRAFT, picks: ['2F', '3F'] })
    expect(answer.status).toBe(422)
    expect(answer.headers['content-type']).toContain('application/problem+json')
    expect(answer.body.errors).toHaveLength(1)
    expect(answer.body.errors[0].path).toBe('picks[1]')
    expect(answer.body.errors[0].message).toMatch(/3.*2|2.*3/)
  })

  test('with an unknown key refuses it with its path', async () => {
    const tablets = [{ ...DRAFT.tablets[0], colour: 'm' }, DRAFT.tablets[1]]
    const answer = await post('/draft/weave', { ...DRAFT, tablets })
    expect(answer.status).toBe(422)
    expect(answer.body.errors[0].path).toBe('tablets[0].colour')
  })

  test('with more cells than one request weaves is 413', async () => {
    const tablets = Array.from({ length: 400 }, () => DRAFT.tablets[0])
    const picks = Array.from({ length: 2501 }, () => '400F')
    const answer = await post('/draft/weave', { ...DRAFT, tablets, picks })
    expect(answer.status).toBe(413)
    expect(answer.body.status).toBe(413)
  })
})

describe('POST /api/v1/measure/compare', () => {
  test('compares readings: common practice, no source: 20 mm against 13 mm is a ratio of 1.54', async () => {
    const answer = await post('/measure/compare', {
      original: { value: 13, u: 0.2 },
      replica: { readings: [19.9, 20, 20.1], resolution: 0.5 },
    })
    expect(answer.status).toBe(200)
    expect(answer.body.ratio).toBeCloseTo(1.5385, 4)
    expect(answer.body).toMatchObject({ original: { mean: 13, u: 0.2, n: null }, replica: { n: 3 }, verdict: 'larger' })
    expect(answer.body.interval[0]).toBeLessThan(answer.body.ratio)
    expect(answer.body.interval[1]).toBeGreaterThan(answer.body.ratio)
  })

  test('without an uncertainty is undecided, and says what would decide', async () => {
    const answer = await post('/measure/compare', { original: { value: 13 }, replica: { readings: [20] } })
    expect(answer.body).toMatchObject({ uRatio: null, interval: null, verdict: 'undecided' })
    expect(answer.body.needs.sentence).toContain('uncertainty')
  })

  test.each([
    ['both a value and readings', { original: { value: 13, readings: [13] }, replica: { value: 20 } }, 'original'],
    ['neither', { original: {}, replica: { value: 20 } }, 'original'],
    ['a value of zero', { original: { value: 0 }, replica: { value: 20 } }, 'original.value'],
    ['a negative reading', { original: { value: 13 }, replica: { readings: [20, -1] } }, 'replica.readings[1]'],
    ['readings that come to zero', { original: { readings: [0, 0] }, replica: { value: 20 } }, 'original.readings'],
    ['an unknown key', { original: { value: 13, unit: 'mm' }, replica: { value: 20 } }, 'original.unit'],
    ['a missing side', { original: { value: 13 } }, 'replica'],
  ])('with %s refuses it with its path', async (_what, body, path) => {
    const answer = await post('/measure/compare', body)
    expect(answer.status).toBe(422)
    expect(answer.body.errors.map((error: { path: string }) => error.path)).toContain(path)
  })
})

describe('POST /api/v1/measure/compare with sides that are too far apart', () => {
  test('is refused as a whole: no field of it is called "the" or "over"', async () => {
    const answers = [
      await post('/measure/compare', { original: { value: 1e-200, u: 1e12 }, replica: { value: 1e12, u: 1e12 } }),
      await post('/measure/compare', { original: { readings: [1e-320, 1e-320] }, replica: { readings: [1, 2] } }),
    ]
    expect(answers.map(({ status }) => status)).toEqual([422, 422])
    expect(answers.map(({ body }) => body.errors[0].path)).toEqual(['', ''])
  })
})

describe('POST /api/v1/work/pace', () => {
  test('takes breaks off: common practice, no source: two repeats of 9 cm in an hour and a half are 12 cm/h', async () => {
    const answer = await post('/work/pace', {
      sittings: [{ minutes: 100, breakMinutes: 10, repeats: 2, lengthMm: 180, picks: 144 }],
    })
    expect(answer.status).toBe(200)
    expect(answer.body).toMatchObject({ minutesPerRepeat: 45, picksPerHour: 96, mmPerHour: 120, learning: null })
  })

  test('with breaks longer than the sitting refuses it with its path', async () => {
    const answer = await post('/work/pace', {
      sittings: [
        { minutes: 10, breakMinutes: 0 },
        { minutes: 10, breakMinutes: 11 },
      ],
    })
    expect(answer.status).toBe(422)
    expect(answer.body.errors[0].path).toBe('sittings[1].breakMinutes')
  })
})

describe('/api/v1', () => {
  test('takes JSON only', async () => {
    const answer = await request(app).post('/api/v1/work/pace').set('Host', HOST).type('form').send('sittings=')
    expect(answer.status).toBe(415)
    expect(answer.body).toMatchObject({ status: 415, title: 'Only JSON is taken here', errors: [] })
  })

  test('refuses broken JSON as a problem document', async () => {
    const answer = await request(app).post('/api/v1/work/pace').set('Host', HOST).type('json').send('{"sittings":')
    expect(answer.status).toBe(400)
    expect(answer.headers['content-type']).toContain('application/problem+json')
  })

  test('refuses a foreign Origin, takes none and our own', async () => {
    const ask = (origin?: string) => {
      const call = request(app).post('/api/v1/work/pace').set('Host', HOST)
      return (origin ? call.set('Origin', origin) : call).send({ sittings: [] })
    }
    expect((await ask('http://evil.example')).status).toBe(403)
    expect((await ask('null')).status).toBe(403)
    expect((await ask()).status).toBe(200)
    expect((await ask(`http://${HOST}`)).status).toBe(200)
  })

  test('sends no CORS header', async () => {
    const answer = await request(app).post('/api/v1/work/pace').set('Host', HOST).send({ sittings: [] })
    expect(answer.headers).not.toHaveProperty('access-control-allow-origin')
  })

  test('a call that is not there, and a method that is not taken, are problem documents', async () => {
    const absent = await request(app).post('/api/v1/draft/unravel').set('Host', HOST).send({})
    expect([absent.status, absent.headers['content-type']]).toEqual([404, 'application/problem+json; charset=utf-8'])
    const read = await request(app).get('/api/v1/draft/weave').set('Host', HOST)
    expect([read.status, read.headers.allow]).toEqual([405, 'POST'])
  })

  test.each([
    ['/work/pace', 1],
    ['/measure/compare', 1],
    ['/draft/weave', 4],
  ])('%s refuses a body over %d MB', async (path, mb) => {
    const answer = await post(path, { padding: 'x'.repeat(mb * 1024 * 1024) })
    expect(answer.status).toBe(413)
    expect(answer.body.detail).toBe(`That was more than is taken in one go (${mb} MB).`)
  })

  test('takes `__proto__` for the unknown key that it is', async () => {
    const body = '{"sittings":[],"__proto__":{"polluted":true}}'
    const answer = await request(app).post('/api/v1/work/pace').set('Host', HOST).type('json').send(body)
    expect(answer.status).toBe(422)
    expect(({} as Record<string, unknown>).polluted).toBeUndefined()
  })

  test('describes each call in OpenAPI 3.1', async () => {
    const answer = await request(app).get('/api/v1/openapi.json').set('Host', HOST)
    expect(answer.body.openapi).toBe('3.1.0')
    expect(Object.keys(answer.body.paths)).toEqual([
      ...['/draft/weave', '/draft/infer', '/draft/compare', '/draft/recover'],
      ...['/measure/compare', '/plan/warp', '/work/pace', '/yarn/convert'],
    ])
    const schema = answer.body.paths['/draft/weave'].post.requestBody.content['application/json'].schema
    expect(schema.required).toEqual(['title', 'colours', 'weft', 'tablets', 'picks'])
  })

  test('nothing broke on the way', () => {
    expect(broken).toEqual([])
  })
})
