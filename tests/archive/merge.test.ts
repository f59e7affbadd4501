import { readFileSync } from 'node:fs'
import request from 'supertest'
import { describe, expect, test } from 'vitest'
import { choiceKey, type Choice } from '../../server/archive/bring-in.ts'
import { gather } from '../../server/archive/gather.ts'
import { planImport } from '../../server/archive/plan.ts'
import { unpackArchive } from '../../server/archive/unpack.ts'
import type { Db } from '../../server/db/open.ts'
import { asViewer, type Viewer } from '../../server/rights/viewer.ts'
import { loadDemo } from '../../seeds-demo/load.ts'
import { dump } from '../demo/dump.ts'
import { makeClaim, makeOriginal, makePiece, makeRevision, makeDraft, makeSource } from '../support/rows.ts'
import { makeDataDir, migratedDb, NOW, startApp, type Started } from '../support/start.ts'
import { exportTo, importFrom } from './archive-file.ts'

const count = (db: Db, table: string) => Number(db.raw.prepare(`select count(*) from ${table}`).pluck().get())
const pluck = (db: Db, query: string) => db.raw.prepare(query).pluck().all()

/** Two notebooks that were one: an original with two rival claims, a draft, a piece. */
async function twins() {
  const db = migratedDb()
  const source = makeSource(db)
  const original = makeOriginal(db, { name: 'Fen band' })
  makeClaim(db, { original_id: original, value: '13.0', working: 1, source_id: source })
  makeClaim(db, { original_id: original, value: '12.5' })
  const draft = makeDraft(db, { original_id: original })
  const revision = makeRevision(db, { draft_id: draft })
  makePiece(db, { original_id: original, draft_revision_id: revision, for_whom: 'the ferryman' })
  const other = migratedDb()
  const dataDir = makeDataDir()
  await importFrom(other, dataDir, await exportTo(db, makeDataDir()))
  return { db, other, dataDir }
}

const all = async (db: Db, file: string, choice: Choice) => {
  const { items } = planImport(db, (await unpackArchive(file, makeDataDir())).notebook)
  const conflicts = items.filter(({ state }) => state === 'conflict')
  return new Map(conflicts.map(({ kind, record }) => [choiceKey(kind, record.uid), choice]))
}

describe('an archive that is brought into a notebook with content', () => {
  test('changes nothing when all of it is there already', async () => {
    const { db, other, dataDir } = await twins()
    const before = dump(other)
    const { counts } = await importFrom(other, dataDir, await exportTo(db, makeDataDir()))
    expect(counts).toEqual({ new: 0, same: 6, ours: 0, theirs: 0, both: 0, left: 0 })
    expect(dump(other)).toEqual(before)
  })

  test('writes nothing while a conflict has no choice', async () => {
    const { db, other, dataDir } = await twins()
    db.raw.exec("update original set name = 'Marsh band'")
    makeOriginal(db, { name: 'Something new' })
    const before = dump(other)
    await expect(importFrom(other, dataDir, await exportTo(db, makeDataDir()))).rejects.toThrow('Please look again')
    expect(dump(other)).toEqual(before)
  })

  test('keeps ours, takes theirs, or keeps both, as chosen', async () => {
    const { db, other, dataDir } = await twins()
    db.raw.exec("update original set name = 'Marsh band'")
    const file = await exportTo(db, makeDataDir())
    await importFrom(other, dataDir, file, await all(other, file, 'ours'))
    expect(pluck(other, 'select name from original')).toEqual(['Fen band'])
    await importFrom(other, dataDir, file, await all(other, file, 'both'))
    expect(pluck(other, 'select name from original')).toEqual(['Fen band', 'Marsh band (from the archive)'])
    expect(pluck(other, 'select count(*) from claim group by original_id')).toEqual([2, 2])
    expect(new Set(pluck(other, 'select uid from claim')).size).toBe(4)
    await importFrom(other, dataDir, file, await all(other, file, 'theirs'))
    expect(pluck(other, 'select name from original')).toEqual(['Marsh band', 'Marsh band (from the archive)'])
    expect(pluck(other, 'select version from original')).toEqual([2, 1])
  })

  test('never changes a revision that is here: what differs is added behind it', async () => {
    const { db, other, dataDir } = await twins()
    makeRevision(other, { draft_id: 1, number: 2, note: 'ours' })
    makeRevision(db, { draft_id: 1, number: 2, note: 'theirs' })
    db.raw.exec('update piece set draft_revision_id = 2')
    const file = await exportTo(db, makeDataDir())
    await importFrom(other, dataDir, file, await all(other, file, 'theirs'))
    expect(pluck(other, 'select number || note from draft_revision order by number')).toEqual(['1', '2ours', '3theirs'])
    expect(pluck(other, 'select r.note from piece p join draft_revision r on r.id = p.draft_revision_id')).toEqual([
      'theirs',
    ])
  })

  test('lets one claim be the working one, and says so', async () => {
    const { db, other, dataDir } = await twins()
    makeClaim(db, { original_id: 1, value: '14', working: 0 })
    db.raw.exec("update claim set working = 0 where value = '13.0'")
    db.raw.exec("update claim set working = 1 where value = '14'")
    const file = await exportTo(db, makeDataDir())
    const { remarks } = await importFrom(other, dataDir, file, await all(other, file, 'ours'))
    expect(pluck(other, 'select value from claim where working = 1')).toEqual(['13.0'])
    expect(remarks).toEqual([expect.stringContaining('yours stays the working one')])
    await importFrom(other, dataDir, file, await all(other, file, 'theirs'))
    expect(pluck(other, 'select value from claim where working = 1')).toEqual(['14'])
  })

  test('names what is neither in the archive nor here, and comes in without', async () => {
    const { db } = await twins()
    const { notebook } = gather(db, { kind: 'notebook' })
    const alone = { ...notebook, records: { ...notebook.records, original: [], claim: [], draft: [] } }
    const empty = migratedDb()
    const { missing } = planImport(empty, alone)
    expect(missing.map(({ kind, field }) => `${kind} ${field}`)).toEqual(['piece original', 'piece draftRevision'])
  })
})

describe('with members', () => {
  const member = (id: number, role: 'member' | 'keeper' = 'member'): Viewer => ({ kind: 'member', id, name: 'M', role })
  async function guild() {
    const made = await twins()
    for (const name of ['ada', 'bo'])
      made.other.raw.exec(`insert into member (name, sign_in_name, password_hash, role, created_at)
        values ('${name}', '${name}', '', 'member', '2026-01-01T00:00:00.000Z')`)
    made.other.raw.exec(
      ['source', 'original', 'draft', 'piece'].map((table) => `update ${table} set owner_id = 1`).join(';'),
    )
    return made
  }

  test('what comes in belongs to who brings it in, and nobody else sees it', async () => {
    const { db, other, dataDir } = await guild()
    makeSource(db, { title: 'New', visibility: 'published' })
    await asViewer(member(1), async () => importFrom(other, dataDir, await exportTo(db, makeDataDir())))
    expect(other.raw.prepare("select owner_id, visibility from source where title = 'New'").get()).toEqual({
      owner_id: 1,
      visibility: 'private',
    })
  })

  test('what somebody keeps private is neither shown nor touched: the archive’s comes in as one’s own', async () => {
    const { db, other, dataDir } = await guild()
    db.raw.exec("update original set name = 'Marsh band'")
    const file = await exportTo(db, makeDataDir())
    const unpacked = await unpackArchive(file, makeDataDir())
    const plan = asViewer(member(2), () => planImport(other, unpacked.notebook))
    expect(new Set(plan.items.map(({ state }) => state))).toEqual(new Set(['copy']))
    await asViewer(member(2), () => importFrom(other, dataDir, file))
    expect(pluck(other, 'select owner_id || name from original')).toEqual(['1Fen band', '2Marsh band'])
    expect(pluck(other, 'select count(*) from claim group by original_id')).toEqual([2, 2])
    expect(pluck(other, 'select p.original_id from piece p where owner_id = 2')).toEqual([2])
  })

  test('a feature whose key somebody else has to themselves comes in under its own, and is known when it comes in again', async () => {
    const { db, other, dataDir } = await guild()
    const feature = (owner: number | null, label: string) => ({
      key: 'own-nap',
      label,
      quantity: 'length',
      owner_id: owner,
    })
    other.run(other.sql.insertInto('feature').values({ ...feature(1, 'Nap'), created_at: '2026-01-01T00:00:00.000Z' }))
    db.run(
      db.sql.insertInto('feature').values({ ...feature(null, 'Nap, raised'), created_at: '2026-02-01T00:00:00.000Z' }),
    )
    makeClaim(db, { original_id: makeOriginal(db), feature: 'own-nap', value: '41' })
    const file = await exportTo(db, makeDataDir())
    await asViewer(member(2), async () => {
      await importFrom(other, dataDir, file)
      const claims = "select feature from claim where value = '41'"
      expect(pluck(other, claims)).toEqual(['own2-nap-raised'])
      const { items } = planImport(other, (await unpackArchive(file, makeDataDir())).notebook)
      expect(items.find(({ record }) => record.value === '41')).toMatchObject({ state: 'same', differences: [] })
      await importFrom(other, dataDir, file)
      expect(pluck(other, claims)).toEqual(['own2-nap-raised'])
      expect(pluck(other, 'select key from feature order by key')).toEqual(['own-nap', 'own2-nap-raised'])
    })
  })

  test('what somebody shares can be kept or copied, not replaced, and nothing is added to it', async () => {
    const { db, other, dataDir } = await guild()
    other.raw.exec("update original set visibility = 'members'; update source set visibility = 'members'")
    other.raw.exec("update draft set visibility = 'members'; update piece set visibility = 'members'")
    db.raw.exec("update original set name = 'Marsh band'")
    makeClaim(db, { original_id: 1, value: '99' })
    const file = await exportTo(db, makeDataDir())
    await asViewer(member(2), async () => {
      const { items } = planImport(other, (await unpackArchive(file, makeDataDir())).notebook)
      expect(items.find(({ kind }) => kind === 'original')).toMatchObject({ state: 'conflict', mayReplace: false })
      expect(items.find(({ record }) => record.value === '99')).toMatchObject({ state: 'left' })
      await expect(importFrom(other, dataDir, file, await all(other, file, 'theirs'))).rejects.toThrow('look again')
      await importFrom(other, dataDir, file, await all(other, file, 'ours'))
    })
    expect(pluck(other, 'select name from original')).toEqual(['Fen band'])
    expect(count(other, 'claim')).toBe(2)
  })

  test('an export has what others keep private nowhere, and for whom a piece is only for its owner', async () => {
    const { other } = await guild()
    const of = (viewer: Viewer, kind: 'own' | 'notebook') =>
      asViewer(viewer, () => JSON.stringify(gather(other, { kind }).notebook))
    expect(of(member(1), 'own')).toContain('the ferryman')
    expect(of(member(2, 'keeper'), 'notebook')).not.toContain('Fen band')
    other.raw.exec("update piece set visibility = 'published'")
    const seen = of(member(2, 'keeper'), 'notebook')
    expect(seen).toContain('First trial')
    expect(seen).not.toContain('the ferryman')
    expect(seen).not.toContain('Fen band')
    expect(of(member(2), 'own')).not.toContain('First trial')
  })
})

const send = ({ app }: Started, file: string) =>
  request(app)
    .post('/import')
    .set('Host', 'localhost:4180')
    .set('Origin', 'http://localhost:4180')
    .attach('archive', readFileSync(file), 'archive.zip')

describe('the pages', () => {
  test('GET /export/notebook.zip sends an archive that can be brought in', async () => {
    const started = startApp()
    loadDemo(started.db, NOW)
    const answer = await started
      .get('/export/notebook.zip')
      .buffer(true)
      .parse((res, done) => {
        const chunks: Buffer[] = []
        res.on('data', (chunk: Buffer) => chunks.push(chunk)).on('end', () => done(null, Buffer.concat(chunks)))
      })
    expect(answer.status).toBe(200)
    expect(answer.headers['content-type']).toBe('application/zip')
    expect(answer.headers['content-disposition']).toBe('attachment; filename="fellmark-notebook-2026-11-24.zip"')
    expect((answer.body as Buffer).subarray(0, 4).toString('latin1')).toBe('PK\u0003\u0004')
  })

  test('POST /import shows both sides and writes nothing; POST /import/:token asks for each choice, then does it', async () => {
    const { db, other, dataDir } = await twins()
    db.raw.exec("update original set name = 'Marsh band'")
    const started = startApp(other, dataDir)
    const before = dump(other)
    const shown = await send(started, await exportTo(db, makeDataDir()))
    expect(shown.status).toBe(200)
    expect(shown.text).toContain('<td>Fen band</td><td>Marsh band</td>')
    expect(dump(other)).toEqual(before)
    const [, action = ''] = /action="(\/import\/[0-9a-f]{32})"/.exec(shown.text) ?? []
    const again = await started.post(action)
    expect(again.status).toBe(422)
    expect(again.text).toContain('please choose which of the two is to stand')
    expect(dump(other)).toEqual(before)
    const [, name = ''] = /name="(original-[0-9a-f]{32})"/.exec(shown.text) ?? []
    const done = await started.post(action, { [name]: 'theirs' })
    expect(done.status).toBe(200)
    expect(done.text).toContain('1 now says what the archive says')
    expect(pluck(other, 'select name from original')).toEqual(['Marsh band'])
    expect((await started.get(action)).status).toBe(404)
    expect(started.broken).toEqual([])
  })

  test('POST /import/:token with one choice for the rest follows it', async () => {
    const { db, other, dataDir } = await twins()
    db.raw.exec("update original set name = 'Marsh band'; update source set title = 'Other'")
    const started = startApp(other, dataDir)
    const shown = await send(started, await exportTo(db, makeDataDir()))
    const [, action = ''] = /action="(\/import\/[0-9a-f]{32})"/.exec(shown.text) ?? []
    await started.post(action, { rest: 'both' })
    expect(count(other, 'original')).toBe(2)
    expect(count(other, 'source')).toBe(2)
  })
})
