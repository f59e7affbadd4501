import { describe, expect, test } from 'vitest'
import { hashToken } from '../../server/member/token.ts'
import { PASSWORD, startGuild } from '../support/guild.ts'

const MINUTE = 60_000
const DAY = 24 * 60 * MINUTE

async function guildOf(...names: string[]) {
  const guild = startGuild()
  for (const [index, name] of names.entries()) await guild.person(name, index === 0 ? 'keeper' : 'member')
  return guild
}

const sessionsOf = ({ db }: Awaited<ReturnType<typeof guildOf>>) => db.all(db.sql.selectFrom('session').selectAll())

describe('a page, without a session', () => {
  test('leads to the sign-in, and from there back', async () => {
    const guild = await guildOf('oda')
    const browser = guild.browser()
    const answer = await browser.get('/pieces?status=loom')
    expect([answer.status, answer.headers.location]).toEqual([303, '/sign-in?next=%2Fpieces%3Fstatus%3Dloom'])
    const asked = await browser.get(answer.headers.location ?? '')
    expect(asked.text).toContain('name="next" value="/pieces?status&#x3D;loom"')
    const signedIn = await browser.post('/sign-in', {
      signInName: 'oda',
      password: PASSWORD,
      next: '/pieces?status=loom',
    })
    expect(signedIn.headers.location).toBe('/pieces?status=loom')
    expect((await browser.get('/pieces')).status).toBe(200)
  })

  test.each(['/sign-in', '/nowhere', '/colophon'])('%s shows nothing of the notebook', async (path) => {
    const { text } = await (await guildOf('oda')).browser().get(path)
    expect(text).not.toMatch(/href="\/(originals|drafts|pieces|sources|members|account)|name="q"|fellmark\.db|\/demo/)
    expect(text).toContain('href="/sign-in"')
  })

  test('a form that was sent is given back to be sent again, without its passwords', async () => {
    const guild = await guildOf('oda')
    const sent = { title: 'Bands of the "Fen"', kind: 'book', password: 'not to be seen' }
    const answer = await guild.browser().post('/sources', sent)
    expect(answer.status).toBe(403)
    expect(answer.text).toContain('action="/sources"')
    expect(answer.text).toContain('name="title" value="Bands of the &quot;Fen&quot;"')
    expect(answer.text).not.toContain('not to be seen')
    expect(guild.db.all(guild.db.sql.selectFrom('source').select('id'))).toEqual([])
  })
})

describe('POST /sign-in', () => {
  test('takes the name in any case, sets one cookie that scripts cannot read, and keeps its hash alone', async () => {
    const guild = await guildOf('oda')
    const browser = guild.browser()
    const answer = await browser.post('/sign-in', { signInName: ' ODA ', password: PASSWORD })
    expect([answer.status, answer.headers.location]).toEqual([303, '/'])
    const line = ((answer.get('Set-Cookie') ?? []) as string[]).find((each) => each.startsWith('fellmark='))
    expect(line).toMatch(/^fellmark=[\w-]{43}; Max-Age=7776000; Path=\/; Expires=[^;]+; HttpOnly; SameSite=Lax$/)
    const token = browser.cookies.get('fellmark') ?? ''
    expect(sessionsOf(guild).map(({ token_hash }) => token_hash)).toEqual([hashToken(token)])
    expect(JSON.stringify(guild.logged)).not.toContain(token)
    expect(guild.logged).toMatchObject([{ event: 'sign-in', memberId: 1 }])
  })

  test('says the same of a wrong password and of a name that nobody has', async () => {
    const guild = await guildOf('oda')
    const ask = async (signInName: string) => {
      const answer = await guild.browser().post('/sign-in', { signInName, password: 'five herons over the marsh' })
      return [answer.status, answer.text.replaceAll(signInName, 'NAME'), answer.get('Set-Cookie')]
    }
    const wrong = await ask('oda')
    expect(wrong[0]).toBe(422)
    expect(wrong[1]).toContain('This name and this password do not belong together.')
    expect(wrong[1]).not.toContain('five herons')
    expect(await ask('nobody')).toEqual(wrong)
    expect(sessionsOf(guild)).toEqual([])
    expect(guild.logged.map(({ event, memberId }) => [event, memberId])).toEqual([
      ['sign-in-failed', 1],
      ['sign-in-failed', null],
    ])
  })

  test.each([` ${PASSWORD}`, `${PASSWORD} `, PASSWORD.toUpperCase(), PASSWORD.slice(0, -1), ''])(
    'refuses "%s": every character counts',
    async (password) => {
      const guild = await guildOf('oda')
      expect((await guild.browser().post('/sign-in', { signInName: 'oda', password })).status).toBe(422)
    },
  )

  test('never takes over a token that the browser came with', async () => {
    const guild = await guildOf('oda', 'brand')
    const browser = guild.browser()
    const planted = 'A'.repeat(43)
    browser.cookies.set('fellmark', planted)
    await browser.post('/sign-in', { signInName: 'oda', password: PASSWORD })
    const own = browser.cookies.get('fellmark') ?? ''
    expect(own).not.toBe(planted)
    await browser.post('/sign-in', { signInName: 'brand', password: PASSWORD })
    expect(sessionsOf(guild).map(({ member_id }) => member_id)).toEqual([2])
    const replayed = guild.browser()
    for (const token of [planted, own]) {
      replayed.cookies.set('fellmark', token)
      expect((await replayed.get('/pieces')).status).toBe(303)
    }
  })

  test.each([
    '//example.org',
    '/\\example.org',
    'https://example.org',
    'https:example.org',
    '/\t/example.org',
    '/.//example.org',
    'pieces',
    '',
  ])('with next=%j stays in the notebook', async (next) => {
    const guild = await guildOf('oda')
    const answer = await guild.browser().post('/sign-in', { signInName: 'oda', password: PASSWORD, next })
    expect(answer.headers.location).toBe('/')
  })

  test('with next=/%2f%2fexample.org stays below the address of the notebook', async () => {
    const guild = await guildOf('oda')
    const answer = await guild
      .browser()
      .post('/sign-in', { signInName: 'oda', password: PASSWORD, next: '/%2f%2fexample.org' })
    expect(answer.headers.location).toBe('/%2f%2fexample.org')
  })
})

describe('a session', () => {
  test('ends 30 days after it was last used', async () => {
    const guild = await guildOf('oda')
    const browser = await guild.signedIn('oda')
    guild.clock.now = new Date(guild.clock.now.getTime() + 30 * DAY - 1)
    expect((await browser.get('/pieces')).status).toBe(200)
    guild.clock.now = new Date(guild.clock.now.getTime() + 30 * DAY)
    expect((await browser.get('/pieces')).status).toBe(303)
  })

  test('ends 90 days after it began, however often it is used', async () => {
    const guild = await guildOf('oda')
    const browser = await guild.signedIn('oda')
    for (let day = 20; day < 90; day += 20) {
      guild.clock.now = new Date(guild.clock.now.getTime() + 20 * DAY)
      expect((await browser.get('/pieces')).status).toBe(200)
    }
    guild.clock.now = new Date(guild.clock.now.getTime() + 10 * DAY)
    expect((await browser.get('/pieces')).status).toBe(303)
  })

  test.each([
    ['an hour back', -1 / 24, 200],
    ['a day back', -1, 200],
    ['an hour on', 1 / 24, 200],
    ['a day on', 1, 200],
    ['to 1970', -56 * 365, 303],
    ['back by ten years, in which it would never end', -3650, 303],
  ])('where the clock is put %s is answered as it should be', async (_, days, status) => {
    const guild = await guildOf('oda')
    const browser = await guild.signedIn('oda')
    guild.clock.now = new Date(guild.clock.now.getTime() + days * DAY)
    expect((await browser.get('/pieces')).status).toBe(status)
    expect((await (await guild.signedIn('oda')).get('/pieces')).status).toBe(200)
  })

  test('is noted as seen once a minute at most', async () => {
    const guild = await guildOf('oda')
    const browser = await guild.signedIn('oda')
    const [before] = sessionsOf(guild)
    guild.clock.now = new Date(guild.clock.now.getTime() + MINUTE - 1)
    await browser.get('/pieces')
    expect(sessionsOf(guild)[0]?.seen_at).toBe(before?.seen_at)
    guild.clock.now = new Date(guild.clock.now.getTime() + 1)
    await browser.get('/pieces')
    expect(sessionsOf(guild)[0]?.seen_at).toBe(guild.clock.now.toISOString())
  })

  test('shows who is signed in, and People to keepers alone', async () => {
    const guild = await guildOf('oda', 'brand')
    expect((await (await guild.signedIn('oda')).get('/colophon')).text).toMatch(/ODA[^]*href="\/members"/)
    const brand = await (await guild.signedIn('brand')).get('/nowhere')
    expect(brand.status).toBe(404)
    expect(brand.text).toContain('BRAND')
    expect(brand.text).toContain('href="/pieces"')
    expect(brand.text).not.toContain('href="/members"')
  })
})

describe('POST /sign-out', () => {
  test('ends the session for good; browsers would not empty their caches on plain http', async () => {
    const guild = await guildOf('oda')
    const browser = await guild.signedIn('oda')
    const token = browser.cookies.get('fellmark') ?? ''
    const answer = await browser.post('/sign-out')
    expect([answer.status, answer.headers['clear-site-data']]).toEqual([303, undefined])
    expect(browser.cookies.has('fellmark')).toBe(false)
    browser.cookies.set('fellmark', token)
    expect((await browser.get('/pieces')).status).toBe(303)
  })

  test('without a session leads to the sign-in too', async () => {
    expect((await (await guildOf('oda')).browser().post('/sign-out')).headers.location).toBe('/sign-in?done=signed-out')
  })
})

describe('behind https', () => {
  test.each([
    ['https://bands.example.org', '__Host-fellmark', '/'],
    ['https://example.org/bands', '__Secure-fellmark', '/bands'],
  ])('%s: the cookie is %s with the path %s', async (baseUrl, name, path) => {
    const guild = startGuild({ baseUrl })
    await guild.person('oda', 'keeper')
    const browser = guild.browser()
    const answer = await browser.post('/sign-in', { signInName: 'oda', password: PASSWORD, next: '/pieces' })
    expect(answer.headers.location).toBe(`${path === '/' ? '' : path}/pieces`)
    const line = ((answer.get('Set-Cookie') ?? []) as string[]).find((each) => each.startsWith(`${name}=`))
    expect(line).toContain(`; Path=${path};`)
    expect(line).toContain('; Secure')
    expect((await browser.get('/pieces')).status).toBe(200)
    expect((await browser.post('/sign-out')).headers['clear-site-data']).toBe('"cache"')
    browser.cookies.clear()
    expect((await browser.get('/pieces')).headers.location).toBe(`${path === '/' ? '' : path}/sign-in?next=%2Fpieces`)
  })
})
