import express from 'express'
import request from 'supertest'
import { describe, expect, test } from 'vitest'
import { problemHandler } from '../../server/api/problem.ts'
import { bearer, needsScope } from '../../server/member/bearer.ts'
import { currentViewer } from '../../server/rights/viewer.ts'
import { readable } from '../support/html.ts'
import { startGuild, type Browser } from '../support/guild.ts'

const DAY = 24 * 60 * 60_000

async function tokenOf(browser: Browser, fields = { name: 'my script', scope: 'read', days: '7' }) {
  const made = await browser.post('/account/tokens', fields)
  return /readonly spellcheck="false">([\w-]{43})</.exec(readable(made.text))?.[1] ?? ''
}

async function guildWithToken(fields?: { name: string; scope: string; days: string }) {
  const guild = startGuild()
  await guild.person('oda', 'keeper')
  const browser = await guild.signedIn('oda')
  const token = await tokenOf(browser, fields)
  const ask = (authorization?: string) => {
    const asked = request(guild.app).get('/api/v1/openapi.json').set('Host', 'lan.test:4180')
    return authorization === undefined ? asked : asked.set('Authorization', authorization)
  }
  return { guild, browser, token, ask }
}

describe('POST /account/tokens', () => {
  test('shows the token this once and keeps its hash alone', async () => {
    const { guild, browser, token } = await guildWithToken()
    expect(token).toMatch(/^[\w-]{43}$/)
    const { text } = await browser.get('/account')
    expect(text).toContain('my script')
    expect(text).toContain('1 December 2026, 13:00')
    expect(text).not.toContain(token)
    expect(JSON.stringify(guild.db.all(guild.db.sql.selectFrom('api_token').selectAll()))).not.toContain(token)
  })

  test.each([
    [{ name: '', scope: 'read', days: '7' }, 'token-f-name'],
    [{ name: 'x', scope: 'all', days: '7' }, 'token-f-scope'],
    [{ name: 'x', scope: 'read', days: '9999' }, 'token-f-days'],
  ])('with %j says what is wrong and makes none', async (fields, id) => {
    const { guild, browser } = await guildWithToken()
    const answer = await browser.post('/account/tokens', fields)
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(`href="#${id}"`)
    expect(guild.db.all(guild.db.sql.selectFrom('api_token').select('id'))).toHaveLength(1)
  })
})

describe('Authorization: Bearer', () => {
  test('that holds is taken, and its use is noted', async () => {
    const { guild, token, ask } = await guildWithToken()
    expect((await ask(`Bearer ${token}`)).status).toBe(200)
    expect((await ask(`bearer ${token}`)).status).toBe(200)
    expect(guild.db.all(guild.db.sql.selectFrom('api_token').select('last_used_at'))).toEqual([
      { last_used_at: guild.clock.now.toISOString() },
    ])
  })

  test('is not needed for what only computes', async () => {
    expect((await (await guildWithToken()).ask()).status).toBe(200)
  })

  test.each(['Bearer', `Bearer ${'A'.repeat(43)}`, 'Bearer short', 'Basic b2RhOnNlY3JldA=='])(
    '"%s" is a 401 problem, even where none is needed',
    async (authorization) => {
      const answer = await (await guildWithToken()).ask(authorization)
      expect([answer.status, answer.headers['www-authenticate']]).toEqual([401, 'Bearer error="invalid_token"'])
      expect(answer.headers['content-type']).toContain('application/problem+json')
      expect(JSON.parse(answer.text)).toMatchObject({ title: 'Not signed in', status: 401 })
    },
  )

  test('ends with its time, with its owner’s word, and is nobody else’s to end', async () => {
    const { guild, browser, token, ask } = await guildWithToken()
    await guild.person('brand', 'member')
    expect((await (await guild.signedIn('brand')).post('/account/tokens/1/end')).status).toBe(404)
    expect((await ask(`Bearer ${token}`)).status).toBe(200)
    const second = await tokenOf(browser)
    expect((await browser.post('/account/tokens/1/end')).status).toBe(303)
    expect((await ask(`Bearer ${token}`)).status).toBe(401)
    guild.clock.now = new Date(guild.clock.now.getTime() + 7 * DAY - 1)
    expect((await ask(`Bearer ${second}`)).status).toBe(200)
    guild.clock.now = new Date(guild.clock.now.getTime() + 1)
    expect((await ask(`Bearer ${second}`)).status).toBe(401)
  })

  test('opens no page, and a session opens no call', async () => {
    const { guild, browser, token } = await guildWithToken()
    const page = await request(guild.app)
      .get('/pieces')
      .set('Host', 'lan.test:4180')
      .set('Authorization', `Bearer ${token}`)
    expect(page.status).toBe(303)
    const api = express()
    api.use(bearer({ db: guild.db, now: () => guild.clock.now, isLoopback: false }))
    api.get('/mine', needsScope('read'), (_req, res) => void res.send(currentViewer()))
    api.use(problemHandler(() => undefined))
    const cookie = [...browser.cookies].map((pair) => pair.join('=')).join('; ')
    expect((await request(api).get('/mine').set('Cookie', cookie)).status).toBe(401)
    expect((await request(api).get('/mine').set('Authorization', `Bearer ${token}`)).body).toEqual({
      ...{ kind: 'member', id: 1, name: 'ODA', role: 'keeper' },
    })
  })
})

describe('needsScope(scope)', () => {
  test.each([
    ['read', 'read', 200],
    ['read', 'write', 403],
    ['write', 'read', 200],
    ['write', 'write', 200],
  ] as const)('a token for %s asked for %s is answered with %i', async (given, needed, status) => {
    const { guild, token } = await guildWithToken({ name: 'x', scope: given, days: '7' })
    const api = express()
    api.use(bearer({ db: guild.db, now: () => guild.clock.now, isLoopback: false }))
    api.get('/mine', needsScope(needed), (_req, res) => void res.send('yours'))
    api.use(problemHandler(() => undefined))
    expect((await request(api).get('/mine').set('Authorization', `Bearer ${token}`)).status).toBe(status)
  })
})
