import request from 'supertest'
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { BURST, EXPORTS, steadyStore } from '../../server/burst.ts'
import { startGuild } from '../support/guild.ts'
import { makePiece } from '../support/rows.ts'
import { startApp } from '../support/start.ts'

// The window stands still, so that a slow machine counts the same.
beforeEach(() => void vi.useFakeTimers({ toFake: ['performance'] }))
afterEach(() => void vi.useRealTimers())

const PROXY = { baseUrl: 'https://bands.example.org' }

describe('requests in too short a time', () => {
  test('GET 300 times within ten seconds is answered, the next is a 429 with Retry-After, and for others all is as before', async () => {
    const guild = startGuild(PROXY)
    const fast = guild.browser({ from: '198.51.100.7' })
    const statuses = await Promise.all(Array.from({ length: BURST.requests }, () => fast.get('/colophon')))
    expect(statuses.filter(({ status }) => status === 200)).toHaveLength(300)
    const held = await fast.get('/colophon')
    expect(held.status).toBe(429)
    expect(Number(held.headers['retry-after'])).toBeGreaterThan(0)
    expect(Number(held.headers['retry-after'])).toBeLessThanOrEqual(10)
    expect(held.text).toContain('That was too much in too short a time.')
    expect((await fast.post('/sign-in', {})).status).toBe(429)
    expect((await guild.browser({ from: '198.51.100.8' }).get('/colophon')).status).toBe(200)
    expect(guild.broken).toEqual([])
  })

  test('a made-up X-Forwarded-For is no way round it where no proxy is', async () => {
    const guild = startGuild()
    const answers = await Promise.all(
      Array.from({ length: 310 }, (_, n) => guild.browser({ from: `198.51.${n % 200}.7` }).get('/colophon')),
    )
    expect(answers.filter(({ status }) => status === 429)).toHaveLength(10)
  })

  test('the lone maker on their own machine is never held up', async () => {
    const { get } = startApp()
    const answers = await Promise.all(Array.from({ length: 320 }, () => get('/colophon')))
    expect(answers.every(({ status }) => status === 200)).toBe(true)
  })
})

describe('GET /pieces/:id/export.zip', () => {
  test('of a published piece is given to somebody who has not signed in twenty times, then they wait', async () => {
    const guild = startGuild(PROXY)
    await guild.person('oda', 'keeper')
    const id = makePiece(guild.db, { owner_id: 1, visibility: 'published' })
    const reader = guild.browser({ from: '198.51.100.7' })
    for (let n = 1; n <= EXPORTS.requests; n++)
      expect((await reader.get(`/pieces/${id}/export.zip`)).status, `${n}`).toBe(200)
    const held = await reader.get(`/pieces/${id}/export.zip`)
    expect([held.status, Number(held.headers['retry-after']) > 60]).toEqual([429, true])
    expect((await reader.get(`/pieces/${id}`)).status).toBe(200)
    expect((await guild.browser({ from: '203.0.113.9' }).get(`/pieces/${id}/export.zip`)).status).toBe(200)
  })
})

describe('steadyStore(withinMs, elapsedMs)', () => {
  test('forgets after its time by a clock that nobody sets', async () => {
    let elapsed = 5_000
    const store = steadyStore(10_000, () => elapsed)
    const count = async (key: string) => (await store.increment(key)).totalHits
    expect([await count('a'), await count('a'), await count('b')]).toEqual([1, 2, 1])
    elapsed += 9_999
    expect(await count('a')).toBe(3)
    elapsed += 1
    expect(await count('a')).toBe(1)
    await store.decrement('a')
    await store.resetKey('b')
    expect([await count('a'), await count('b')]).toEqual([1, 1])
  })
})

test('POST /api/v1/… from a foreign page is refused, and the log says so', async () => {
  const guild = startGuild()
  const answer = await request(guild.app)
    .post('/api/v1/work/pace')
    .set({ Host: 'lan.test:4180', Origin: 'http://bands.example.org' })
    .send({ sittings: [] })
  expect(answer.status).toBe(403)
  expect(guild.logged).toMatchObject([{ event: 'foreign-origin', place: 'work', origin: 'http://bands.example.org' }])
})
