import request from 'supertest'
import { describe, expect, test } from 'vitest'
import { startApp } from '../support/start.ts'

const { app } = startApp()
const get = (query: string) => request(app).get(`/api/v1/yarn/convert?${query}`).set('Host', 'localhost:4180')
const plan = (body: object) => request(app).post('/api/v1/plan/warp').set('Host', 'localhost:4180').send(body)

describe('GET /api/v1/yarn/convert', () => {
  test('answers with the count, and the tex of one single and of the plied yarn', async () => {
    const answer = await get('value=40&from=NeC&to=NeW&ply=2')
    expect(answer.status).toBe(200)
    // ASTM D2260, table 1: worsted is 1.5 times cotton; Ne 40 two-fold is 29.527062 tex together.
    expect(answer.body.value).toBeCloseTo(60, 12)
    expect(answer.body.tex).toBeCloseTo(14.763531, 6)
    expect(answer.body.resultantTex).toBeCloseTo(29.527062, 6)
  })

  test('takes one single where no ply is said', async () => {
    expect((await get('value=20&from=tex&to=Nm')).body).toEqual({ value: 50, tex: 20, resultantTex: 20 })
  })

  test.each([
    ['from=tex&to=Nm', 'value'],
    ['value=0&from=tex&to=Nm', 'value'],
    ['value=-3&from=tex&to=Nm', 'value'],
    ['value=0x10&from=tex&to=Nm', 'value'],
    ['value=1e309&from=tex&to=Nm', 'value'],
    ['value=1&value=2&from=tex&to=Nm', 'value'],
    ['value=1&from=cubits&to=Nm', 'from'],
    ['value=1&from=tex&to=', 'to'],
    ['value=1&from=tex&to=Nm&ply=0', 'ply'],
    ['value=1&from=tex&to=Nm&ply=1.5', 'ply'],
    ['value=1&from=tex&to=Nm&plies=2', 'plies'],
  ])('refuses %s with the path', async (query, path) => {
    const answer = await get(query)
    expect([answer.status, answer.body.errors[0].path]).toEqual([422, path])
    expect(answer.headers['content-type']).toContain('application/problem+json')
  })

  test('takes no POST', async () => {
    const answer = await request(app).post('/api/v1/yarn/convert').set('Host', 'localhost:4180').send({})
    expect([answer.status, answer.headers.allow]).toEqual([405, 'GET'])
  })
})

describe('POST /api/v1/plan/warp', () => {
  const BODY = {
    tablets: [{ holes: ['m', 'm', 'w', null] }],
    wovenLengthMm: 1000,
    takeUp: { percent: 10, of: 'woven' },
    loomWasteMm: 500,
    sampleMm: 100,
    fringeMm: 200,
    windingTurnMm: 1000,
    yarns: { m: { tex: 100 } },
  }

  test('takes up band and sample, adds waste and fringe, and counts by colour', async () => {
    const { status, body } = await plan(BODY)
    expect(status).toBe(200)
    expect(body.warpLengthMm).toBeCloseTo(1910, 9)
    expect(body.ends).toBe(3)
    expect(body.totalLengthM).toBeCloseTo(5.73, 9)
    expect(body.perColour.m.ends).toBe(2)
    expect(body.perColour.m.massG).toBeCloseTo(0.382, 9)
    expect(body.perColour.w.massG).toBeNull()
    expect(body.windingTurns).toBeCloseTo(1.91, 9)
  })

  test('weaves as much more as finishing shrinks, as the page of a plan does', async () => {
    const { body } = await plan({ ...BODY, wovenLengthMm: 1000, shrinkagePercent: 20, sampleMm: 0 })
    expect(body.warpLengthMm).toBeCloseTo(1250 * 1.1 + 700, 9)
    expect((await plan({ ...BODY, shrinkagePercent: 100 })).status).toBe(422)
  })

  test('takes a draft document in the place of tablets', async () => {
    const rest = { ...BODY, tablets: undefined }
    const draft = {
      ...{ title: 'One', colours: { m: { name: 'madder', hex: '#9c3b2e' } }, weft: 'm' },
      ...{ tablets: [{ threading: 'S', holes: ['m', 'm', 'm', 'm'] }], picks: ['1F'] },
    }
    expect((await plan({ ...rest, draft })).body).toMatchObject({ ends: 4 })
    const broken = await plan({ ...rest, draft: { ...draft, weft: 'q' } })
    expect([broken.status, broken.body.errors[0].path]).toEqual([422, 'draft.weft'])
  })

  test.each([
    [{ tablets: undefined }, ''],
    [{ wovenLengthMm: 0 }, 'wovenLengthMm'],
    [{ takeUp: { percent: 100, of: 'warp' } }, 'takeUp.percent'],
    [{ takeUp: { percent: 10 } }, 'takeUp.of'],
    [{ yarns: { m: { tex: 0 } } }, 'yarns.m.tex'],
    [{ yarns: { q: { tex: 1 } } }, 'yarns.q'],
    [{ loomWaste: 3 }, 'loomWaste'],
  ])('refuses %j with the path', async (changes, path) => {
    const answer = await plan({ ...BODY, ...changes })
    expect([answer.status, answer.body.errors[0].path]).toEqual([422, path])
  })
})
