import { mkdirSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { listWorries, type Facts } from '../../server/keeper/verdict.ts'
import { sayBytes } from '../../server/keeper/space.ts'
import { sayWhen } from '../../server/keeper/say.ts'
import { addPhoto, askBackup, listKept, makeNotebook } from '../backup/notebook.ts'
import { readable } from '../support/html.ts'
import { startApp } from '../support/start.ts'

const NOW = new Date('2026-11-24T12:00:00Z')
const SAFE: Facts = {
  ...{ now: NOW, zone: 'Europe/Berlin', lastGoodAt: new Date('2026-11-24T01:00:00Z'), lastRun: undefined },
  ...{ space: { freeBytes: 30e9, totalBytes: 100e9, freeShare: 0.3 }, isDemo: false },
}
const worries = (facts: Partial<Facts>) => listWorries({ ...SAFE, ...facts }).map(({ what }) => what)

describe('listWorries(facts)', () => {
  test('is empty with a good backup of today, room on the disk and nothing that failed', () => {
    expect(worries({})).toEqual([])
  })

  test.each<[string, Partial<Facts>, RegExp]>([
    ['no backup', { lastGoodAt: undefined }, /^There is no backup yet/],
    ['an old one', { lastGoodAt: new Date('2026-11-20T01:00:00Z') }, /^The last good backup is 4 days old/],
    [
      'a failed attempt',
      { lastRun: { at: '2026-11-24T09:00:00.000Z', file: '', bytes: 0, ok: 0, message: 'The disk is full.' } },
      /^The last attempt, today at 10:00, failed\. The disk is full\./,
    ],
    ['little room', { space: { freeBytes: 8e9, totalBytes: 1e11, freeShare: 0.08 } }, /8\.0 GB of 100 GB are free/],
    ['the demo', { isDemo: true }, /^This is the demo/],
  ])('names %s', (_, facts, sentence) => {
    expect(worries(facts)).toEqual([expect.stringMatching(sentence)])
  })
})

describe('sayBytes(bytes)', () => {
  test.each([
    [0, '0 B'],
    [999, '999 B'],
    [1000, '1.0 kB'],
    [643_077, '643 kB'],
    [999_600, '1.0 MB'],
    [9_960_000, '10 MB'],
    [2.5e12, '2.5 TB'],
  ])('%d is %s', (bytes, text) => {
    expect(sayBytes(bytes)).toBe(text)
  })
})

describe('sayWhen(at, now, zone)', () => {
  test('counts local days, also over the change of clocks', () => {
    const say = (at: string) => sayWhen(new Date(at), new Date('2026-10-26T00:10:00Z'), 'Europe/Berlin')
    expect(say('2026-10-25T23:30:00Z')).toBe('today at 00:30')
    expect(say('2026-10-25T00:30:00Z')).toBe('yesterday at 02:30')
    expect(say('2026-10-20T10:00:00Z')).toBe('20 October 2026 at 12:00')
  })
})

/** The program on a notebook on the disk. */
function start() {
  const notebook = makeNotebook()
  return { ...startApp(notebook.db, notebook.dataDir), notebook }
}

describe('the keeper’s page', () => {
  test('says that there is no backup, and after the button that the notebook is safe today', async () => {
    const { get, post, db } = start()
    expect((await get('/keeper')).text).toContain('There is no backup yet.')
    const answer = await post('/keeper/backup')
    expect([answer.status, answer.headers.location]).toEqual([303, '/keeper?done=backed-up'])
    const page = readable((await get('/keeper?done=backed-up')).text)
    expect(page).toContain('The notebook is safe today')
    expect(page).toContain('href="/keeper/restore/2026-11-24T120000Z"')
    db.close()
  })

  test('asks before a restore, with what there is now and what was there then', async () => {
    const { get, post, db, notebook } = start()
    addPhoto(notebook)
    await post('/keeper/backup')
    db.raw.exec('delete from piece')
    const page = readable((await get('/keeper/restore/2026-11-24T120000Z')).text)
    expect(page).toMatch(/Pieces<\/th><td class="number">0<\/td><td class="number">8</)
    expect(page).toContain('a safety copy of what is there now')
    const answer = await post('/keeper/restore/2026-11-24T120000Z')
    expect([answer.status, answer.headers.location]).toEqual([303, '/keeper?done=backup-restored'])
    expect(db.raw.prepare('select count(*) from piece').pluck().get()).toBe(8)
    expect((await get('/keeper')).text).toContain('before a restore')
    db.close()
  })

  test('deletes a backup after a question, which says when it is the newest or the only one', async () => {
    const { get, post, db, dataDir, notebook } = start()
    await askBackup(notebook)
    const { name: newest } = await askBackup(notebook)
    expect((await get('/keeper')).text).toContain(`href="/keeper/delete/${newest}"`)
    expect(readable((await get(`/keeper/delete/${newest}`)).text)).toContain('It is the newest one.')
    expect((await post(`/keeper/delete/${newest}`)).headers.location).toBe('/keeper?done=backup-deleted')
    expect(listKept(dataDir)).toEqual(['2026-11-24T120000Z'])
    expect((await get('/keeper/delete/2026-11-24T120000Z')).text).toContain('It is the only backup')
    expect((await get(`/keeper/delete/${newest}`)).status).toBe(404)
    expect((await post(`/keeper/delete/${newest}`)).status).toBe(404)
    db.close()
  })

  test('does not delete a backup while one is made or restored', async () => {
    const { post, db, notebook, dataDir } = start()
    const { name } = await askBackup(notebook)
    const under = askBackup(notebook)
    expect((await post(`/keeper/delete/${name}`)).status).toBe(409)
    await under
    expect(listKept(dataDir)).toHaveLength(2)
    db.close()
  })

  test('a backup that is spoilt is refused in words, and named by the check', async () => {
    const { get, post, db, notebook, broken } = start()
    const { folder } = await askBackup(notebook)
    writeFileSync(join(folder, 'fellmark.db'), 'spoilt')
    const answer = await post('/keeper/restore/2026-11-24T120000Z')
    expect([answer.status, answer.text]).toEqual([409, expect.stringContaining('fellmark.db is not what it was')])
    expect((await get('/keeper/check')).text).toContain('The newest backup, 2026-11-24T120000Z, is not whole any more.')
    expect(broken).toEqual([])
    db.close()
  })

  test.each(['2026-11-24T120001Z', '..', '%2e%2e%2fphotos', '.partial-x-1'])('knows no backup %s', async (name) => {
    const { get, post, db } = start()
    expect((await get(`/keeper/restore/${name}`)).status).toBe(404)
    expect((await post(`/keeper/restore/${name}`)).status).toBe(404)
    db.close()
  })

  test('shows what failed, with the reason', async () => {
    const { get, post, db, dataDir } = start()
    writeFileSync(join(dataDir, 'backups'), 'a file where the folder should be')
    expect((await post('/keeper/backup')).status).toBe(503)
    rmSync(join(dataDir, 'backups'))
    const page = (await get('/keeper')).text
    expect(page).toContain('What failed')
    expect(page).toMatch(/The last attempt, today at 13:00, failed\./)
    db.close()
  })
})

describe('GET /healthz', () => {
  test('is ok with one word when the notebook can be written to, and leaves nothing in it', async () => {
    const { get, db } = start()
    const answer = await get('/healthz')
    expect([answer.status, answer.text, answer.headers['cache-control']]).toEqual([200, 'ok', 'no-store'])
    expect(db.raw.prepare('select count(*) from backup_run').pluck().get()).toBe(0)
    db.close()
  })

  test('is 503 without a reason when it cannot', async () => {
    const { get, db } = start()
    db.raw.pragma('query_only = on')
    const answer = await get('/healthz')
    expect([answer.status, answer.text]).toEqual([503, 'not well'])
    db.raw.pragma('query_only = off')
    expect((await get('/healthz')).status).toBe(200)
    db.raw.pragma('user_version = 1')
    expect((await get('/healthz')).status).toBe(503)
    db.close()
  })

  test('needs no sign-in', async () => {
    const { get, db, dataDir } = start()
    mkdirSync(join(dataDir, 'photos'))
    db.raw.exec(
      "insert into member (name, sign_in_name, password_hash, role, created_at) values ('A', 'a', '', 'keeper', '')",
    )
    expect((await get('/healthz')).status).toBe(200)
    expect((await get('/keeper')).headers.location).toMatch(/^\/sign-in/)
    db.close()
  })
})
