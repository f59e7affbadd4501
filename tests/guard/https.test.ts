import request from 'supertest'
import { describe, expect, test } from 'vitest'
import { startGuild } from '../support/guild.ts'
import { startApp } from '../support/start.ts'

const WARNING = 'This address is plain http'
const YEAR_S = 365 * 24 * 60 * 60

describe('Strict-Transport-Security', () => {
  test('stands for a year or longer on every answer where the public address is https', async () => {
    const guild = startGuild({ baseUrl: 'https://bands.example.org/notebook' })
    const browser = guild.browser()
    const answers = [await browser.get('/sign-in'), await browser.get('/nowhere'), await browser.post('/sign-out')]
    answers.push(await browser.get('/assets/style.css'), await browser.get('/api/v1/openapi.json'))
    for (const { headers } of answers) {
      const seconds = Number(/^max-age=(\d+)$/.exec(headers['strict-transport-security'] ?? '')?.[1])
      expect(seconds).toBeGreaterThanOrEqual(YEAR_S)
    }
  })

  test.each([
    ['on this machine', () => startGuild({ isLoopback: true })],
    ['in a local network', () => startGuild()],
    ['at a public address that is plain http', () => startGuild({ baseUrl: 'http://bands.example.org' })],
  ])('is never said over plain http: %s', async (_where, start) => {
    const answer = await start().browser().get('/colophon')
    expect(answer.status).toBe(200)
    expect(answer.headers).not.toHaveProperty('strict-transport-security')
  })
})

describe('a sign-in that others on the network can read', () => {
  test.each([
    ['in a local network', {}],
    ['at a public address that is plain http', { baseUrl: 'http://bands.example.org' }],
  ])('is warned of before and after it, on every page: %s', async (_where, options) => {
    const guild = startGuild(options)
    await guild.person('oda', 'keeper')
    expect((await guild.browser().get('/sign-in')).text).toContain(WARNING)
    expect((await guild.browser().post('/sign-in', { signInName: 'oda', password: 'x' })).text).toContain(WARNING)
    const browser = await guild.signedIn('oda')
    for (const path of ['/', '/pieces', '/account', '/nowhere'])
      expect((await browser.get(path)).text, path).toContain(WARNING)
    expect((await guild.browser().get('/colophon')).text).not.toContain(WARNING)
  })

  test('has no warning behind https, nor on this machine', async () => {
    for (const options of [{ baseUrl: 'https://bands.example.org' }, { isLoopback: true }]) {
      const guild = startGuild(options)
      await guild.person('oda', 'keeper')
      const browser = await guild.signedIn('oda')
      for (const path of ['/', '/account']) expect((await browser.get(path)).text).not.toContain(WARNING)
    }
    expect((await startApp().get('/')).text).not.toContain(WARNING)
  })
})

describe('a form from elsewhere', () => {
  test('leaves a line in the log, with where it came from and without the token in its address', async () => {
    const guild = startGuild()
    const token = 'A'.repeat(43)
    const send = (origin: string | undefined) => {
      const sent = request(guild.app).post(`/reset/${token}`).set('Host', 'lan.test:4180').type('form')
      return (origin === undefined ? sent : sent.set('Origin', origin)).send({ password: 'x' })
    }
    for (const origin of ['http://evil.lan.test', undefined, 'null']) expect((await send(origin)).status).toBe(403)
    expect(guild.logged.map(({ event, origin, place }) => [event, origin, place])).toEqual([
      ['foreign-origin', 'http://evil.lan.test', 'reset'],
      ['foreign-origin', null, 'reset'],
      ['foreign-origin', 'null', 'reset'],
    ])
    expect(JSON.stringify(guild.logged)).not.toContain(token)
  })
})
