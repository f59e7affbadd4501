import { describe, expect, test } from 'vitest'
import { insertInvite, insertResetLink, insertSetupLink } from '../../server/member/link-queries.ts'
import { listSetupLines } from '../../server/member/setup-line.ts'
import { makeDraft, makeOriginal, makePiece, makeSource } from '../support/rows.ts'
import { PASSWORD, startGuild, type Guild } from '../support/guild.ts'
import { readable } from '../support/html.ts'

const HOUR = 60 * 60_000
const ODA = { name: 'Oda', signInName: 'oda', password: PASSWORD }
const BRAND = { name: 'Brand', signInName: 'brand', password: PASSWORD }

const later = (guild: Guild, ms: number) => void (guild.clock.now = new Date(guild.clock.now.getTime() + ms))
const membersOf = ({ db }: Guild) => db.all(db.sql.selectFrom('member').select(['name', 'sign_in_name', 'role']))

describe('without members, where other machines come in', () => {
  test('every page leads to the sign-in, which says what to do', async () => {
    const browser = startGuild().browser()
    expect((await browser.get('/')).headers.location).toBe('/sign-in?next=%2F')
    expect((await browser.get('/sign-in')).text).toContain('The program printed a link for the first one')
    expect((await browser.get('/members')).status).toBe(303)
    expect((await browser.post('/members/first', ODA)).status).toBe(403)
  })
})

describe('/setup/:token', () => {
  test('makes the first keeper, signs them in, and gives them what nobody owns', async () => {
    const guild = startGuild()
    const { db } = guild
    for (const make of [makeSource, makeOriginal, makeDraft, makePiece]) make(db)
    const token = insertSetupLink(db, guild.clock.now)
    const browser = guild.browser()
    expect((await browser.get(`/setup/${token}`)).text).toContain('Set up this notebook')
    const answer = await browser.post(`/setup/${token}`, ODA)
    expect([answer.status, answer.headers.location]).toEqual([303, '/members?done=welcome'])
    expect(membersOf(guild)).toEqual([{ name: 'Oda', sign_in_name: 'oda', role: 'keeper' }])
    for (const table of ['source', 'original', 'draft', 'piece'] as const) {
      expect(db.all(db.sql.selectFrom(table).select('owner_id'))).toEqual([{ owner_id: 1 }])
    }
    expect((await browser.get('/members')).text).toContain('Oda')
    expect(guild.logged).toEqual([{ event: 'set-up', memberId: 1 }])
  })

  test('opens once: again it is gone, for reading and for writing', async () => {
    const guild = startGuild()
    const token = insertSetupLink(guild.db, guild.clock.now)
    await guild.browser().post(`/setup/${token}`, ODA)
    expect((await guild.browser().get(`/setup/${token}`)).status).toBe(410)
    expect((await guild.browser().post(`/setup/${token}`, BRAND)).status).toBe(410)
    expect(membersOf(guild)).toHaveLength(1)
  })

  test('used twenty times at once makes exactly one keeper', async () => {
    const guild = startGuild()
    const token = insertSetupLink(guild.db, guild.clock.now)
    const answers = await Promise.all(
      Array.from({ length: 20 }, (_, n) => guild.browser().post(`/setup/${token}`, { ...ODA, signInName: `oda${n}` })),
    )
    expect(answers.map(({ status }) => status).sort()).toEqual([303, ...new Array<number>(19).fill(410)])
    expect(membersOf(guild)).toHaveLength(1)
  })

  test('opens for an hour', async () => {
    const guild = startGuild()
    const token = insertSetupLink(guild.db, guild.clock.now)
    later(guild, HOUR - 1)
    expect((await guild.browser().get(`/setup/${token}`)).status).toBe(200)
    later(guild, 1)
    expect((await guild.browser().get(`/setup/${token}`)).status).toBe(410)
    expect((await guild.browser().post(`/setup/${token}`, ODA)).status).toBe(410)
    expect(membersOf(guild)).toEqual([])
  })

  test('of an earlier start is replaced by the newest', async () => {
    const guild = startGuild()
    const [first, second] = [1, 2].map(() => listSetupLines(guild.db, 'http://lan.test:4180', guild.clock.now)[1] ?? '')
    const path = (line = '') => line.replace('http://lan.test:4180', '')
    expect((await guild.browser().get(path(first))).status).toBe(410)
    expect((await guild.browser().get(path(second))).status).toBe(200)
    await guild.browser().post(path(second), ODA)
    expect(listSetupLines(guild.db, 'http://lan.test:4180', guild.clock.now)).toEqual([])
  })

  test('that was never given says the same as one that was used', async () => {
    const guild = startGuild()
    const answer = await guild.browser().get(`/setup/${'A'.repeat(43)}`)
    expect(answer.status).toBe(410)
    expect(answer.text).toContain('This link does not open anything any more')
  })

  test.each([
    [{ name: ' ' }, 'Please say what the others call you.'],
    [{ signInName: 'o' }, 'Please take 2 to 60 letters'],
    [{ signInName: 'oda hill' }, 'without spaces'],
    [{ password: 'fourteen chars' }, 'Please take at least 15 characters'],
    [{ password: 'passwordpassword' }, 'among the first that somebody would try'],
    [{ password: 'ODA-oda-oda-oda-oda' }, 'among the first that somebody would try'],
    [{ password: 'ab '.repeat(334) }, 'Please keep this under 1000 characters.'],
  ])('with %j says what is wrong, keeps the rest, and stays open', async (fields, sentence) => {
    const guild = startGuild()
    const token = insertSetupLink(guild.db, guild.clock.now)
    const answer = await guild.browser().post(`/setup/${token}`, { ...ODA, ...fields })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(sentence)
    expect(answer.text).not.toContain(PASSWORD)
    expect(membersOf(guild)).toEqual([])
    expect((await guild.browser().post(`/setup/${token}`, ODA)).status).toBe(303)
  })

  test('takes 1000 characters, and nothing more by a field of its own', async () => {
    const guild = startGuild()
    const token = insertSetupLink(guild.db, guild.clock.now)
    const password = 'a loom, '.repeat(125)
    await guild.browser().post(`/setup/${token}`, { ...ODA, password, role: 'guest', id: '9', left_at: 'now' })
    expect(membersOf(guild)).toEqual([{ name: 'Oda', sign_in_name: 'oda', role: 'keeper' }])
    expect((await guild.browser().post('/sign-in', { signInName: 'oda', password })).status).toBe(303)
  })
})

describe('/invite/:token', () => {
  test('makes an account of the role that the keeper chose', async () => {
    const guild = startGuild()
    await guild.person('oda', 'keeper')
    const token = insertInvite(guild.db, 'guest', guild.clock.now)
    const browser = guild.browser()
    const answer = await browser.post(`/invite/${token}`, { ...BRAND, role: 'keeper' })
    expect(answer.headers.location).toBe('/?done=welcome')
    expect(membersOf(guild)[1]).toEqual({ name: 'Brand', sign_in_name: 'brand', role: 'guest' })
    expect((await browser.get('/members')).status).toBe(403)
  })

  test('with a name that somebody has stays open', async () => {
    const guild = startGuild()
    await guild.person('oda', 'keeper')
    const token = insertInvite(guild.db, 'member', guild.clock.now)
    const answer = await guild.browser().post(`/invite/${token}`, { ...BRAND, signInName: 'ODA' })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain('Somebody else signs in with this name.')
    expect((await guild.browser().post(`/invite/${token}`, BRAND)).status).toBe(303)
  })

  test('opens for seven days, and not as another kind of link', async () => {
    const guild = startGuild()
    await guild.person('oda', 'keeper')
    const token = insertInvite(guild.db, 'member', guild.clock.now)
    expect((await guild.browser().get(`/reset/${token}`)).status).toBe(410)
    expect((await guild.browser().get(`/setup/${token}`)).status).toBe(410)
    later(guild, 7 * 24 * HOUR)
    expect((await guild.browser().get(`/invite/${token}`)).status).toBe(410)
  })
})

describe('/reset/:token', () => {
  const NEW = 'nine otters under the bridge'

  async function resetGuild() {
    const guild = startGuild()
    const id = await guild.person('oda', 'keeper')
    const token = insertResetLink(guild.db, { id, role: 'keeper' }, guild.clock.now)
    return { guild, id, token }
  }

  test('sets the password once and ends every session', async () => {
    const { guild, token } = await resetGuild()
    const old = await guild.signedIn('oda')
    const browser = guild.browser()
    expect((await browser.get(`/reset/${token}`)).text).toContain('For the sign-in name oda.')
    expect((await browser.post(`/reset/${token}`, { password: NEW })).status).toBe(303)
    expect((await browser.get('/pieces')).status).toBe(200)
    expect((await old.get('/pieces')).status).toBe(303)
    const signIn = (password: string) => guild.browser().post('/sign-in', { signInName: 'oda', password })
    expect((await signIn(PASSWORD)).status).toBe(422)
    expect((await signIn(NEW)).status).toBe(303)
    expect((await guild.browser().post(`/reset/${token}`, { password: PASSWORD })).status).toBe(410)
  })

  test('ends every token for programs, says so, and leaves those of others', async () => {
    const { guild, token } = await resetGuild()
    await guild.person('brand', 'member')
    for (const name of ['oda', 'brand'])
      await (await guild.signedIn(name)).post('/account/tokens', { name: 'script', scope: 'write', days: '7' })
    const browser = guild.browser()
    const answer = await browser.post(`/reset/${token}`, { password: NEW })
    expect(answer.headers.location).toBe('/?done=password-tokens')
    expect((await browser.get('/?done=password-tokens')).text).toContain('your tokens for programs have ended')
    expect(guild.db.all(guild.db.sql.selectFrom('api_token').select('member_id'))).toEqual([{ member_id: 2 }])
    expect(guild.logged).toContainEqual({ event: 'password-reset', memberId: 1, endedTokens: 1 })
  })

  test('with a password that is too short stays open and changes nothing', async () => {
    const { guild, token } = await resetGuild()
    expect((await guild.browser().post(`/reset/${token}`, { password: 'short' })).status).toBe(422)
    await guild.signedIn('oda')
    expect((await guild.browser().get(`/reset/${token}`)).status).toBe(200)
  })

  test('opens for a day, and a newer one takes its place', async () => {
    const { guild, id, token } = await resetGuild()
    const newer = insertResetLink(guild.db, { id, role: 'keeper' }, guild.clock.now)
    expect((await guild.browser().get(`/reset/${token}`)).status).toBe(410)
    later(guild, 24 * HOUR)
    expect((await guild.browser().get(`/reset/${newer}`)).status).toBe(410)
  })
})

test('pages of links keep what is typed in passwords away from the page', async () => {
  const guild = startGuild()
  const token = insertSetupLink(guild.db, guild.clock.now)
  const { text } = await guild.browser().get(`/setup/${token}`)
  expect(readable(text)).toContain('type="password" value="" inputmode="text"')
  expect(readable(text)).toContain('autocomplete="new-password"')
  expect(readable(text)).toContain('autocomplete="username"')
})
