import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { Desk } from '../../server/admin/command.ts'
import { runCommand } from '../../server/admin/commands.ts'
import { NotebookRefusal } from '../../server/db/open.ts'
import { insertApiToken } from '../../server/member/api-token-queries.ts'
import { insertMember } from '../../server/member/queries.ts'
import { insertSession } from '../../server/member/session-queries.ts'
import { makeDataDir, migratedDb, NOW, ZONE } from '../support/start.ts'

/** A notebook in a folder of its own, and a keeper's desk before it. */
function startDesk(roles: readonly ('keeper' | 'member')[] = []) {
  const dataDir = makeDataDir()
  const db = migratedDb(join(dataDir, 'fellmark.db'))
  roles.forEach((role, index) =>
    insertMember(db, { name: `P ${index + 1}`, signInName: `p${index + 1}`, passwordHash: 'none' }, role, NOW),
  )
  const said: string[] = []
  const complained: string[] = []
  const desk: Desk = {
    ...{ dataDir, address: 'http://lan.test:4180', now: () => NOW, zone: ZONE },
    say: (line) => void said.push(line),
    complain: (line) => void complained.push(line),
  }
  const run = (text: string) => runCommand(text.split(' ').filter(Boolean), desk)
  return { db, desk, said, complained, run }
}

describe('npm run admin', () => {
  test.each(['', 'weave', 'constructor', '__proto__'])('"%s" names the commands and ends with 2', async (text) => {
    const { run, complained, said } = startDesk()
    expect(await run(text)).toBe(2)
    expect(complained[0]).toBe('Usage: npm run admin -- COMMAND …')
    expect(complained.some((line) => line.startsWith('  member list | '))).toBe(true)
    expect(said).toEqual([])
  })

  test('in a folder without a notebook makes none and says so', async () => {
    const { desk } = startDesk()
    const elsewhere = { ...desk, dataDir: makeDataDir() }
    await expect(runCommand(['member', 'list'], elsewhere)).rejects.toThrow(NotebookRefusal)
  })
})

describe('npm run admin -- member', () => {
  test('list says who is in', async () => {
    const { run, said } = startDesk(['keeper', 'member'])
    expect(await run('member list')).toBe(0)
    expect(said).toEqual(['p1\tkeeper\tP 1', 'p2\tmember\tP 2'])
  })

  test('setup gives a link while nobody is in, and none after that', async () => {
    const empty = startDesk()
    expect(await empty.run('member setup')).toBe(0)
    expect(empty.said[1]).toMatch(/^http:\/\/lan\.test:4180\/setup\/[\w-]{43}$/)
    const full = startDesk(['keeper'])
    expect(await full.run('member setup')).toBe(1)
    expect(full.complained).toEqual(['This notebook has a keeper already; see "member reset".'])
  })

  test('reset gives the link that lets a keeper in again who has lost the password', async () => {
    const { db, run, said } = startDesk(['keeper'])
    expect(await run('member reset P1')).toBe(0)
    expect(said[1]).toMatch(/^http:\/\/lan\.test:4180\/reset\/[\w-]{43}$/)
    expect(db.all(db.sql.selectFrom('one_time_link').select(['kind', 'member_id']))).toEqual([
      { kind: 'reset', member_id: 1 },
    ])
  })

  test('role changes it, but never the last keeper’s', async () => {
    const { db, run, complained } = startDesk(['keeper', 'member'])
    expect(await run('member role p1 guest')).toBe(1)
    expect(complained[0]).toContain('Nobody else keeps the notebook')
    expect(await run('member role p2 keeper')).toBe(0)
    expect(await run('member role p1 guest')).toBe(0)
    expect(db.all(db.sql.selectFrom('member').select('role').orderBy('id'))).toEqual([
      { role: 'guest' },
      { role: 'keeper' },
    ])
  })

  test('sign-out ends every session of one', async () => {
    const { db, run, said } = startDesk(['keeper', 'member'])
    insertSession(db, 2, 'x', NOW)
    insertSession(db, 1, 'x', NOW)
    expect(await run('member sign-out p2')).toBe(0)
    expect(said).toEqual(['1 session ended.'])
    expect(db.all(db.sql.selectFrom('session').select('member_id'))).toEqual([{ member_id: 1 }])
  })

  test.each(['member', 'member list all', 'member reset nobody', 'member role p1 queen', 'member invite'])(
    '"%s" says the usage and ends with 2',
    async (text) => {
      const { run, complained } = startDesk(['keeper'])
      expect(await run(text)).toBe(2)
      expect(complained.at(-1)).toMatch(/^Usage: npm run admin -- member list \| setup/)
    },
  )
})

describe('npm run admin -- token', () => {
  test('list and end', async () => {
    const { db, run, said, complained } = startDesk(['keeper'])
    const token = insertApiToken(db, 1, { name: 'script', scope: 'read', expiresAt: '2027-01-01T00:00:00.000Z' }, NOW)
    expect(await run('token list')).toBe(0)
    expect(said).toEqual(['1\tP 1\tscript\tread\tuntil 2027-01-01T00:00:00.000Z\tused never'])
    expect(said.join('')).not.toContain(token)
    expect(await run('token end 1')).toBe(0)
    expect(await run('token end 1')).toBe(1)
    expect(complained).toEqual(['There is no token 1.'])
    expect(await run('token end one')).toBe(2)
  })
})
