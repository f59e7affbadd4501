import { describe, expect, test } from 'vitest'
import { PASSWORD, startGuild, type Browser } from '../support/guild.ts'

const NEW = 'nine otters under the bridge'

async function guildOfTwo() {
  const guild = startGuild()
  await guild.person('oda', 'keeper')
  await guild.person('brand', 'guest')
  return guild
}

const endPaths = async (browser: Browser) =>
  (await browser.get('/account')).text.match(/\/account\/sessions\/[0-9a-f]{16}\/end/g) ?? []

describe('POST /account', () => {
  test('changes the name, and nothing else that is sent', async () => {
    const guild = await guildOfTwo()
    const browser = await guild.signedIn('brand')
    await browser.post('/account', { name: 'Brand Hill', role: 'keeper', sign_in_name: 'x', id: '1' })
    const { db } = guild
    expect(db.all(db.sql.selectFrom('member').select(['name', 'role', 'sign_in_name']))).toEqual([
      { name: 'ODA', role: 'keeper', sign_in_name: 'oda' },
      { name: 'Brand Hill', role: 'guest', sign_in_name: 'brand' },
    ])
    expect((await browser.post('/account', { name: ' ' })).text).toContain('Please say what the others call you.')
  })

  test('shows a name as it was typed, never as HTML', async () => {
    const browser = await (await guildOfTwo()).signedIn('brand')
    await browser.post('/account', { name: '<b>Brand</b>' })
    expect((await browser.get('/account')).text).not.toContain('<b>Brand')
  })
})

describe('POST /account/password', () => {
  test('asks for the present one, ends every other session, and gives this browser a new one', async () => {
    const guild = await guildOfTwo()
    const browser = await guild.signedIn('oda')
    const other = await guild.signedIn('oda')
    const brand = await guild.signedIn('brand')
    const before = browser.cookies.get('fellmark') ?? ''
    const answer = await browser.post('/account/password', { present: PASSWORD, password: NEW })
    expect(answer.headers.location).toBe('/account?done=password')
    expect(browser.cookies.get('fellmark')).not.toBe(before)
    expect((await browser.get('/account')).status).toBe(200)
    expect((await other.get('/account')).status).toBe(303)
    expect((await brand.get('/account')).status).toBe(200)
    other.cookies.set('fellmark', before)
    expect((await other.get('/account')).status).toBe(303)
    expect((await guild.browser().post('/sign-in', { signInName: 'oda', password: PASSWORD })).status).toBe(422)
  })

  test.each([
    [{ present: 'wrong', password: NEW }, 403, 'This is not your present password.'],
    [{ present: PASSWORD, password: 'short' }, 422, 'Please take at least 15 characters'],
    [{ password: NEW }, 403, 'This is not your present password.'],
  ])('with %j is refused and changes nothing', async (fields, status, sentence) => {
    const guild = await guildOfTwo()
    const browser = await guild.signedIn('oda')
    const answer = await browser.post('/account/password', fields)
    expect([answer.status, answer.text.includes(sentence)]).toEqual([status, true])
    expect(answer.text).not.toContain(NEW)
    await guild.signedIn('oda')
  })

  test('is held up after ten wrong ones', async () => {
    const guild = await guildOfTwo()
    const browser = await guild.signedIn('oda')
    const ask = () => browser.post('/account/password', { present: 'wrong', password: NEW })
    for (let n = 1; n <= 10; n++) expect((await ask()).status).toBe(403)
    expect((await ask()).status).toBe(429)
  })
})

describe('sessions on /account', () => {
  test('are listed by what the browser says of itself, and one is ended', async () => {
    const guild = await guildOfTwo()
    const browser = await guild.signedIn('oda')
    const phone = await guild.signedIn('oda', { agent: 'Mozilla/5.0 (iPhone) Version/18 Safari/604.1' })
    const { text } = await browser.get('/account')
    expect(text).toContain('Firefox on Linux</b> <span class="soft">(this one)')
    expect(text).toContain('Safari on an iPhone')
    const [path = ''] = await endPaths(browser)
    expect((await browser.post(path)).status).toBe(303)
    expect((await phone.get('/account')).status).toBe(303)
    expect((await browser.get('/account')).status).toBe(200)
    expect((await browser.post(path)).status).toBe(404)
  })

  test('of somebody else cannot be ended', async () => {
    const guild = await guildOfTwo()
    const oda = await guild.signedIn('oda')
    await guild.signedIn('oda')
    const [path = ''] = await endPaths(oda)
    expect((await (await guild.signedIn('brand')).post(path)).status).toBe(404)
    expect(await endPaths(oda)).toEqual([path])
    for (const key of ['%25', 'ffffffffffffffff']) {
      expect((await oda.post(`/account/sessions/${key}/end`)).status).toBe(404)
    }
  })

  test('all others end together', async () => {
    const guild = await guildOfTwo()
    const [browser, second, third] = [
      await guild.signedIn('oda'),
      await guild.signedIn('oda'),
      await guild.signedIn('oda'),
    ]
    const brand = await guild.signedIn('brand')
    await browser.post('/account/sessions/end-others')
    for (const ended of [second, third]) expect((await ended.get('/account')).status).toBe(303)
    for (const open of [browser, brand]) expect((await open.get('/account')).status).toBe(200)
  })
})
