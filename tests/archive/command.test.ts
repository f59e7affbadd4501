import { existsSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { runCommand } from '../../server/admin/commands.ts'
import type { Desk } from '../../server/admin/command.ts'
import { makeOriginal, makeSource } from '../support/rows.ts'
import { makeDataDir, migratedDb, NOW, ZONE } from '../support/start.ts'

function makeDesk() {
  const dataDir = makeDataDir()
  const db = migratedDb(join(dataDir, 'fellmark.db'))
  const [said, complained]: [string[], string[]] = [[], []]
  const desk: Desk = {
    ...{ dataDir, address: 'http://localhost:4180', now: () => NOW, zone: ZONE },
    say: (line) => void said.push(line),
    complain: (line) => void complained.push(line),
  }
  return { db, desk, said, complained, file: join(makeDataDir(), 'out.zip') }
}

describe('admin export, admin import', () => {
  test('a notebook goes into a file and from there into an empty one', async () => {
    const [from, to] = [makeDesk(), makeDesk()]
    makeOriginal(from.db, { name: 'Fen band' })
    expect(await runCommand(['export', from.file], from.desk)).toBe(0)
    expect(existsSync(`${from.file}.part`)).toBe(false)
    expect(await runCommand(['import', from.file], to.desk)).toBe(0)
    expect(to.said).toEqual([expect.stringContaining('Brought in: 1 new')])
    expect(to.db.raw.prepare('select name from original').pluck().all()).toEqual(['Fen band'])
    expect(readdirSync(join(to.desk.dataDir, 'staging'))).toEqual([])
  })

  test('what differs is listed and waits for --keep', async () => {
    const { db, desk, complained, file } = makeDesk()
    makeSource(db, { title: 'One' })
    await runCommand(['export', file], desk)
    db.raw.exec("update source set title = 'Two'")
    expect(await runCommand(['import', file], desk)).toBe(1)
    expect(complained[0]).toBe('Differs: Source “One” in Title')
    expect(db.raw.prepare('select title from source').pluck().all()).toEqual(['Two'])
    expect(await runCommand(['import', file, '--keep', 'theirs'], desk)).toBe(0)
    expect(db.raw.prepare('select title from source').pluck().all()).toEqual(['One'])
  })

  test('a notebook with members asks for whom, and one member’s own goes out alone', async () => {
    const { db, desk, complained, file } = makeDesk()
    db.raw.exec(`insert into member (id, name, sign_in_name, password_hash, role, created_at)
      values (1, 'Ada', 'ada', 'x', 'member', '2026-01-01T00:00:00.000Z')`)
    makeSource(db, { title: 'Hers', owner_id: 1 })
    makeSource(db, { title: 'Not hers' })
    expect(await runCommand(['export', file, '--member', 'ada'], desk)).toBe(0)
    expect(await runCommand(['import', file], desk)).toBe(1)
    expect(complained.at(-1)).toContain('say with --for to whom')
    db.raw.exec('delete from source')
    expect(await runCommand(['import', file, '--for', 'ada'], desk)).toBe(0)
    expect(db.raw.prepare('select title, owner_id from source').all()).toEqual([{ title: 'Hers', owner_id: 1 }])
  })

  test.each([[['export']], [['import']], [['import', 'x.zip', '--keep', 'none']], [['export', 'x.zip', '--member']]])(
    '%j is answered with its usage',
    async (args) => {
      const { desk, complained } = makeDesk()
      expect(await runCommand(args, desk)).toBe(2)
      expect(complained.at(-1)).toContain('Usage: npm run admin -- ')
    },
  )

  test('what is no archive is refused with its reason', async () => {
    const { desk, complained } = makeDesk()
    expect(await runCommand(['import', join(desk.dataDir, 'fellmark.db')], desk)).toBe(1)
    expect(complained.at(-1)).toContain('This zip cannot be read')
  })
})
