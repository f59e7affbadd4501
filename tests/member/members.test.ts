import { describe, expect, test } from 'vitest'
import type { Role } from '../../server/db/tables.ts'
import { insertApiToken } from '../../server/member/api-token-queries.ts'
import { updateRole } from '../../server/member/queries.ts'
import { readable } from '../support/html.ts'
import { PASSWORD, startGuild, type Guild } from '../support/guild.ts'
import { makePiece, makeSource } from '../support/rows.ts'

const ODA = { name: 'Oda', signInName: 'oda', password: PASSWORD }

const rolesOf = ({ db }: Guild) =>
  db.all(db.sql.selectFrom('member').select(['id', 'role']).where('left_at', 'is', null).orderBy('id'))

async function guildOf(...roles: Role[]) {
  const guild = startGuild()
  for (const [index, role] of roles.entries()) await guild.person(`p${index + 1}`, role)
  return { guild, keeper: await guild.signedIn('p1') }
}

describe('the lone maker', () => {
  test('works without signing in, with one quiet link to People', async () => {
    const { text, status } = await startGuild({ isLoopback: true }).browser().get('/')
    expect(status).toBe(200)
    expect(text).toContain('href="/members">People</a>')
    expect(text).not.toMatch(/sign-in|sign-out|\/account/)
  })

  test('has no account and no sign-in, and is told where to get them', async () => {
    const browser = startGuild({ isLoopback: true }).browser()
    expect((await browser.get('/account')).headers.location).toBe('/members')
    expect((await browser.get('/sign-in')).headers.location).toBe('/')
    expect((await browser.get('/members')).text).toContain('So far you work here alone')
  })

  test('POST /members/first makes their account, gives them all there is, and asks everybody else who they are', async () => {
    const guild = startGuild({ isLoopback: true })
    makePiece(guild.db)
    const browser = guild.browser()
    const answer = await browser.post('/members/first', ODA)
    expect([answer.status, answer.headers.location]).toEqual([303, '/members?done=first-member'])
    expect(guild.db.all(guild.db.sql.selectFrom('piece').select('owner_id'))).toEqual([{ owner_id: 1 }])
    expect((await browser.get('/members?done=first-member')).text).toContain('From now on everybody signs in.')
    expect((await guild.browser().get('/pieces')).headers.location).toBe('/sign-in?next=%2Fpieces')
    expect((await browser.post('/members/first', { ...ODA, signInName: 'oda2' })).status).toBe(409)
  })

  test('POST /members/first with something missing keeps the notebook as it was', async () => {
    const guild = startGuild({ isLoopback: true })
    const answer = await guild.browser().post('/members/first', { ...ODA, password: 'short' })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain('value="Oda"')
    expect((await guild.browser().get('/pieces')).status).toBe(200)
  })

  test('POST /members/first, twenty at once, makes one keeper', async () => {
    const guild = startGuild({ isLoopback: true })
    const answers = await Promise.all(
      Array.from({ length: 20 }, (_, n) => guild.browser().post('/members/first', { ...ODA, signInName: `oda${n}` })),
    )
    expect(answers.filter(({ status }) => status === 303)).toHaveLength(1)
    expect(rolesOf(guild)).toEqual([{ id: 1, role: 'keeper' }])
  })
})

describe('POST /members/invite', () => {
  test('shows a link this once, which opens the account of that role', async () => {
    const { guild, keeper } = await guildOf('keeper')
    const answer = await keeper.post('/members/invite', { role: 'member' })
    const [, path = ''] = /http:\/\/lan\.test:4180(\/invite\/[\w-]{43})/.exec(readable(answer.text)) ?? []
    expect(path).not.toBe('')
    expect(answer.text).toContain('1 December 2026, 13:00')
    expect((await keeper.get('/members')).text).not.toContain(path)
    expect(JSON.stringify(guild.logged)).not.toContain(path.slice(8))
    expect((await guild.browser().post(path, ODA)).status).toBe(303)
    expect(rolesOf(guild)[1]?.role).toBe('member')
  })

  test('without a role, or with one there is not, makes none', async () => {
    const { guild, keeper } = await guildOf('keeper')
    for (const role of ['', 'queen']) expect((await keeper.post('/members/invite', { role })).status).toBe(422)
    expect(guild.db.all(guild.db.sql.selectFrom('one_time_link').select('kind'))).toEqual([])
  })

  test('withdrawn again opens nothing', async () => {
    const { guild, keeper } = await guildOf('keeper')
    const made = await keeper.post('/members/invite', { role: 'member' })
    const [path = ''] = /\/invite\/[\w-]{43}/.exec(made.text) ?? []
    const [withdraw = ''] =
      /\/members\/invitations\/[0-9a-f]{16}\/withdraw/.exec((await keeper.get('/members')).text) ?? []
    expect((await keeper.post(withdraw)).status).toBe(303)
    expect((await guild.browser().get(path)).status).toBe(410)
    expect((await keeper.post(withdraw)).status).toBe(404)
    expect((await keeper.post('/members/invitations/%25/withdraw')).status).toBe(404)
  })
})

describe('POST /members/:id/reset', () => {
  test('gives a link for a new password and leaves the present one until it is used', async () => {
    const { guild, keeper } = await guildOf('keeper', 'member')
    const answer = await keeper.post('/members/2/reset')
    const [path = ''] = /\/reset\/[\w-]{43}/.exec(answer.text) ?? []
    await guild.signedIn('p2')
    expect((await guild.browser().post(path, { password: 'nine otters under the bridge' })).status).toBe(303)
    expect((await guild.browser().post('/sign-in', { signInName: 'p2', password: PASSWORD })).status).toBe(422)
  })

  test.each(['9', '0', 'two'])('for %s is not there', async (id) => {
    expect((await (await guildOf('keeper')).keeper.post(`/members/${id}/reset`)).status).toBe(404)
  })
})

describe('POST /members/:id/role', () => {
  test('holds from the next page on, in sessions that are open', async () => {
    const { guild, keeper } = await guildOf('keeper', 'member')
    const other = await guild.signedIn('p2')
    expect((await other.get('/members')).status).toBe(403)
    await keeper.post('/members/2/role', { role: 'keeper' })
    expect((await other.get('/members')).status).toBe(200)
    expect(guild.logged.at(-1)).toEqual({ event: 'role', memberId: 2, from: 'member', to: 'keeper', by: 1 })
    expect((await keeper.post('/members/1/role', { role: 'member' })).headers.location).toBe('/?done=role')
    expect((await keeper.get('/members')).status).toBe(403)
  })

  test('never leaves the notebook without a keeper', async () => {
    const { guild, keeper } = await guildOf('keeper', 'member')
    const answer = await keeper.post('/members/1/role', { role: 'guest' })
    expect(answer.status).toBe(409)
    expect(answer.text).toContain('Somebody has to keep the notebook')
    expect(rolesOf(guild)[0]?.role).toBe('keeper')
  })

  test('two keepers who demote each other at once leave one', async () => {
    const { guild, keeper } = await guildOf('keeper', 'keeper')
    const other = await guild.signedIn('p2')
    await Promise.all([
      keeper.post('/members/2/role', { role: 'member' }),
      other.post('/members/1/role', { role: 'member' }),
    ])
    expect(rolesOf(guild).filter(({ role }) => role === 'keeper')).toHaveLength(1)
  })

  test.each(['member', 'guest'] as const)('is refused to a %s, and changes nothing', async (role) => {
    const { guild } = await guildOf('keeper', role)
    const answer = await (await guild.signedIn('p2')).post('/members/2/role', { role: 'keeper' })
    expect(answer.status).toBe(403)
    expect(rolesOf(guild)[1]?.role).toBe(role)
  })
})

describe('POST /members/:id/leave', () => {
  async function leaving() {
    const { guild, keeper } = await guildOf('keeper', 'member', 'member')
    const { db } = guild
    makeSource(db, { owner_id: 2 })
    makePiece(db, { owner_id: 2 })
    makePiece(db, { owner_id: 3 })
    const ownersOf = (table: 'piece' | 'source') =>
      db.all(db.sql.selectFrom(table).select(['owner_id', 'deleted_at']).orderBy('id'))
    return { guild, keeper, ownersOf }
  }

  test('shows what there is and asks what happens to it', async () => {
    const { keeper } = await leaving()
    const { text } = await keeper.get('/members/2/leave')
    expect(text).toContain('1 source, 1 piece')
    expect(text).toContain('It stays in the notebook, under your name (P1)')
    expect(text).toContain('It goes to P3')
  })

  test('hands the work over, ends sessions and tokens at once, and frees the sign-in name', async () => {
    const { guild, keeper, ownersOf } = await leaving()
    const browser = await guild.signedIn('p2')
    const expiresAt = '2027-01-01T00:00:00.000Z'
    insertApiToken(guild.db, 2, { name: 'script', scope: 'write', expiresAt }, guild.clock.now)
    guild.db.run(guild.db.sql.insertInto('co_maker').values({ piece_id: 2, member_id: 2 }))
    expect((await keeper.post('/members/2/leave', { estate: '3' })).headers.location).toBe('/members?done=left')
    expect(ownersOf('source')).toEqual([{ owner_id: 3, deleted_at: null }])
    expect(ownersOf('piece').map(({ owner_id }) => owner_id)).toEqual([3, 3])
    expect((await browser.get('/pieces')).status).toBe(303)
    for (const table of ['api_token', 'co_maker'] as const) {
      expect(guild.db.all(guild.db.sql.selectFrom(table).select('member_id'))).toEqual([])
    }
    expect((await guild.browser().post('/sign-in', { signInName: 'p2', password: PASSWORD })).status).toBe(422)
    expect((await guild.browser().post('/sign-in', { signInName: 'left 2', password: '' })).status).toBe(422)
    await guild.person('p2', 'member')
    expect((await keeper.get('/members/2/leave')).status).toBe(404)
  })

  test('lets the keeper take out before all that is the member’s, private things too, and notes it', async () => {
    const { guild, keeper } = await leaving()
    expect((await keeper.get('/members/2/leave')).text).toContain('href="/members/2/export.zip"')
    const answer = await keeper.get('/members/2/export.zip')
    expect([answer.status, answer.headers['content-type']]).toEqual([200, 'application/zip'])
    expect(answer.headers['content-disposition']).toBe('attachment; filename="fellmark-member-2-2026-11-24.zip"')
    expect(guild.logged).toContainEqual({ event: 'member-export', memberId: 2, by: 1 })
    expect((await keeper.get('/members/9/export.zip')).status).toBe(404)
    expect((await (await guild.signedIn('p3')).get('/members/2/export.zip')).status).toBe(403)
    await keeper.post('/members/2/leave', { estate: '3' })
    expect((await keeper.get('/members/2/export.zip')).status).toBe(404)
  })

  test('puts it into the bin of the keeper', async () => {
    const { guild, keeper, ownersOf } = await leaving()
    await keeper.post('/members/2/leave', { estate: 'bin' })
    expect(ownersOf('source')).toEqual([{ owner_id: 1, deleted_at: guild.clock.now.toISOString() }])
    expect(ownersOf('piece')[1]).toEqual({ owner_id: 3, deleted_at: null })
  })

  test.each(['', '2', '9', 'keep', '4'])('with estate "%s" asks again and ends nothing', async (estate) => {
    const { guild, keeper } = await leaving()
    await guild.person('p4', 'guest')
    expect((await keeper.post('/members/2/leave', { estate })).status).toBe(422)
    expect(rolesOf(guild)).toHaveLength(4)
  })

  test('the last keeper stays', async () => {
    const { guild, keeper } = await leaving()
    expect((await keeper.post('/members/1/leave', { estate: '2' })).status).toBe(409)
    expect(rolesOf(guild)).toHaveLength(3)
    updateRole(guild.db, 2, 'keeper')
    expect((await keeper.post('/members/1/leave', { estate: 'bin' })).headers.location).toBe('/sign-in?done=left')
    expect(rolesOf(guild).map(({ id }) => id)).toEqual([2, 3])
    expect((await keeper.get('/pieces')).status).toBe(303)
  })

  test('two keepers who end each other at once leave one', async () => {
    const { guild, keeper } = await guildOf('keeper', 'keeper')
    const other = await guild.signedIn('p2')
    await Promise.all([
      keeper.post('/members/2/leave', { estate: 'bin' }),
      other.post('/members/1/leave', { estate: 'bin' }),
    ])
    expect(rolesOf(guild)).toHaveLength(1)
  })
})
