import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { signInLimits } from '../../server/member/limit.ts'
import { networkOf } from '../../server/member/network.ts'
import { PASSWORD, startGuild, type Browser } from '../support/guild.ts'
import { migratedDb, NOW } from '../support/start.ts'

// The counts run by the machine's clock, not by the notebook's.
beforeEach(() => void vi.useFakeTimers({ toFake: ['Date'], now: NOW }))
afterEach(() => void vi.useRealTimers())
const pass = (seconds: number) => vi.setSystemTime(Date.now() + seconds * 1000)

const NEAR = '198.51.100.7'
const FAR = '203.0.113.9'

async function guildBehindProxy(db = migratedDb()) {
  const guild = startGuild({ db, baseUrl: 'https://bands.example.org' })
  if (db.all(db.sql.selectFrom('member').select('id')).length === 0) await guild.person('oda', 'keeper')
  return guild
}
const wrong = (browser: Browser) => browser.post('/sign-in', { signInName: 'oda', password: 'wrong' })
const right = (browser: Browser) => browser.post('/sign-in', { signInName: 'oda', password: PASSWORD })

describe('POST /sign-in, tried again and again', () => {
  test('lets ten wrong ones through, then the right one waits too: one minute, then two', async () => {
    const guild = await guildBehindProxy()
    const browser = guild.browser({ from: NEAR })
    for (let n = 1; n <= 10; n++) expect((await wrong(browser)).status).toBe(422)
    const held = await right(browser)
    expect([held.status, held.headers['retry-after']]).toEqual([429, '60'])
    expect(held.text).toContain('Please wait a minute')
    pass(61)
    expect((await wrong(browser)).status).toBe(422)
    expect((await right(browser)).headers['retry-after']).toBe('120')
    pass(121)
    expect((await right(browser)).status).toBe(303)
    expect((await wrong(guild.browser({ from: NEAR }))).status).toBe(422)
  })

  test('counts on after a restart', async () => {
    const guild = await guildBehindProxy()
    for (let n = 1; n <= 10; n++) await wrong(guild.browser({ from: NEAR }))
    const again = await guildBehindProxy(guild.db)
    expect((await right(again.browser({ from: NEAR }))).status).toBe(429)
  })

  test('holds nobody up for longer where the machine’s clock is put back', async () => {
    const guild = await guildBehindProxy()
    for (let n = 1; n <= 10; n++) await wrong(guild.browser({ from: NEAR }))
    expect((await right(guild.browser({ from: NEAR }))).status).toBe(429)
    pass(-30 * 24 * 3600)
    expect((await right(guild.browser({ from: NEAR }))).status).toBe(303)
    for (let n = 1; n <= 10; n++) expect((await wrong(guild.browser({ from: NEAR }))).status).toBe(422)
    expect((await right(guild.browser({ from: NEAR }))).headers['retry-after']).toBe('60')
  })

  test('never holds up another network, nor a device that was signed in before', async () => {
    const guild = await guildBehindProxy()
    const known = await guild.signedIn('oda', { from: NEAR })
    await known.post('/sign-out')
    for (let n = 1; n <= 12; n++) await wrong(guild.browser({ from: NEAR }))
    expect((await right(guild.browser({ from: NEAR }))).status).toBe(429)
    expect((await right(known)).status).toBe(303)
    expect((await right(guild.browser({ from: FAR }))).status).toBe(303)
  })

  test('a hundred from all over leave one try for every new network, and the known device free', async () => {
    const guild = await guildBehindProxy()
    const known = await guild.signedIn('oda', { from: NEAR })
    await known.post('/sign-out')
    const limits = signInLimits(guild.db)
    for (let n = 0; n < 100; n++)
      await limits.begin({ signInName: 'oda', network: `198.18.${n % 50}.0/24`, device: undefined })
    const other = guild.browser({ from: FAR })
    expect((await wrong(other)).status).toBe(422)
    expect((await right(other)).status).toBe(429)
    expect((await right(guild.browser({ from: '192.0.2.1' }))).status).toBe(303)
    expect((await right(known)).status).toBe(303)
  })

  test('names that nobody has are held up alike', async () => {
    const guild = await guildBehindProxy()
    const nobody = () => guild.browser({ from: NEAR }).post('/sign-in', { signInName: 'nobody', password: 'x' })
    for (let n = 1; n <= 10; n++) expect((await nobody()).status).toBe(422)
    expect((await nobody()).status).toBe(429)
  })

  test('many names from one network are held up there alone', async () => {
    const guild = await guildBehindProxy()
    const limits = signInLimits(guild.db)
    for (let n = 0; n < 60; n++)
      await limits.begin({ signInName: `name${n}`, network: networkOf(NEAR), device: undefined })
    expect((await right(guild.browser({ from: NEAR }))).status).toBe(429)
    expect((await right(guild.browser({ from: FAR }))).status).toBe(303)
  })

  test('all at once are counted before any password is looked at', async () => {
    const guild = await guildBehindProxy()
    const answers = await Promise.all(Array.from({ length: 20 }, () => wrong(guild.browser({ from: NEAR }))))
    expect(answers.filter(({ status }) => status === 422)).toHaveLength(10)
    expect(answers.filter(({ status }) => status === 429)).toHaveLength(10)
  })
})

describe('X-Forwarded-For', () => {
  test('is not believed without a public address', async () => {
    const guild = startGuild()
    await guild.person('oda', 'keeper')
    for (let n = 1; n <= 10; n++) await wrong(guild.browser({ from: `198.51.${n}.7` }))
    expect((await right(guild.browser({ from: FAR }))).status).toBe(429)
  })

  test('is believed in its last address alone, the one that the proxy wrote', async () => {
    const guild = await guildBehindProxy()
    for (let n = 1; n <= 10; n++) await wrong(guild.browser({ from: `192.0.2.${n}, ${NEAR}` }))
    expect((await right(guild.browser({ from: `${FAR}, ${NEAR}` }))).status).toBe(429)
  })
})

describe('networkOf(address)', () => {
  test.each([
    ['198.51.100.7', '198.51.100.0/24'],
    ['::ffff:198.51.100.7', '198.51.100.0/24'],
    ['192.168.1.20', '192.168.1.20'],
    ['172.20.0.3', '172.20.0.3'],
    ['172.32.0.3', '172.32.0.0/24'],
    ['2001:db8:1:2ab::1', '2001:db8:1:200::/56'],
    ['2001:db8:1:2ff:1:2:3:4', '2001:db8:1:200::/56'],
    ['2001:db8:1:3ff:1:2:3:4', '2001:db8:1:300::/56'],
    ['2001:db8::1', '2001:db8:0:0::/56'],
    ['::1', '0:0:0:0::/56'],
    ['fe80::1%eth0', 'fe80:0:0:0::/56'],
  ])('%s belongs to %s', (address, network) => {
    expect(networkOf(address)).toBe(network)
  })
})
