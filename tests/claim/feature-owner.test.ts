import { describe, expect, test } from 'vitest'
import { gather } from '../../server/archive/gather.ts'
import { endMembership } from '../../server/member/leave-queries.ts'
import { insertFirstKeeper } from '../../server/member/queries.ts'
import { asViewer } from '../../server/rights/viewer.ts'
import { migrations } from '../../migrations/index.ts'
import { migrate } from '../../server/db/migrate.ts'
import { openDb } from '../../server/db/open.ts'
import { makePeople } from '../support/people.ts'
import { makeClaim, makeOriginal, makePiece } from '../support/rows.ts'
import { makeDataDir, migratedDb, NOW, startApp } from '../support/start.ts'
import { exportTo, importFrom } from '../archive/archive-file.ts'

const LABEL = 'Quillwort knots'

async function withFeature() {
  const db = migratedDb()
  const people = makePeople(db)
  const of = (who: keyof typeof people) => startApp(db, makeDataDir(), people[who])
  expect((await of('owner').post('/features', { label: LABEL, kind: 'count' })).status).toBe(303)
  const key = String(db.raw.prepare('select key from feature').pluck().get())
  const sees = async (who: keyof typeof people) => (await of(who).get('/features')).text.includes(LABEL)
  return { db, people, of, key, sees }
}

describe('a feature of somebody’s own', () => {
  test('is seen by nobody else, not even the keeper, until a claim about it can be seen', async () => {
    const { db, people, key, sees } = await withFeature()
    expect(await sees('owner')).toBe(true)
    for (const who of ['other', 'coMaker', 'guest', 'keeper'] as const) expect(await sees(who), who).toBe(false)
    const original_id = makeOriginal(db, { owner_id: people.owner.id })
    makeClaim(db, { original_id, feature: key, unit: 'count', value: '3' })
    expect(await sees('other')).toBe(false)
    db.raw.exec("update original set visibility = 'members'")
    for (const who of ['other', 'guest', 'keeper'] as const) expect(await sees(who), who).toBe(true)
    db.raw.exec("update original set deleted_at = '2026-11-24T12:00:00.000Z'")
    expect(await sees('other')).toBe(false)
    const piece_id = makePiece(db, { owner_id: people.owner.id })
    makeClaim(db, { piece_id, feature: key, unit: 'count', value: '3' })
    db.run(db.sql.insertInto('co_maker').values({ piece_id, member_id: people.coMaker.id }))
    expect([await sees('coMaker'), await sees('other')]).toEqual([true, false])
  })

  test('is shown by its name with a published claim to somebody who has not signed in', async () => {
    const { db, people, of, key } = await withFeature()
    const original_id = makeOriginal(db, { owner_id: people.owner.id, visibility: 'published' })
    makeClaim(db, { original_id, feature: key, unit: 'count', value: '3' })
    expect((await of('anonymous').get(`/originals/${original_id}`)).text).toContain(LABEL)
  })

  test('cannot be claimed of, or found out, by its key or its name', async () => {
    const { db, people, of, key } = await withFeature()
    const id = makeOriginal(db, { owner_id: people.other.id })
    const hild = of('other')
    expect((await hild.get(`/originals/${id}/claims/new?feature=${key}`)).status).toBe(404)
    expect((await hild.post(`/originals/${id}/claims`, { feature: key })).status).toBe(404)
    const own = await hild.post('/features', { label: LABEL, kind: 'length' })
    expect(own.headers.location).toBe('/features?done=saved')
    expect(db.raw.prepare('select owner_id, key from feature order by rowid').all()).toEqual([
      { owner_id: people.owner.id, key: `own${people.owner.id}-quillwort-knots` },
      { owner_id: people.other.id, key: `own${people.other.id}-quillwort-knots` },
    ])
    expect((await hild.post('/features', { label: LABEL.toUpperCase(), kind: 'length' })).status).toBe(422)
  })

  test('goes into an archive of whoever may see it, and of its maker unused too', async () => {
    const { db, people } = await withFeature()
    const labels = (who: keyof typeof people, kind: 'own' | 'notebook') =>
      asViewer(people[who], () => gather(db, { kind })).notebook.features.map(({ label }) => label)
    expect([labels('owner', 'own'), labels('owner', 'notebook')]).toEqual([[LABEL], [LABEL]])
    expect([labels('other', 'own'), labels('keeper', 'notebook')]).toEqual([[], []])
  })

  test('whose key somebody else has to themselves comes in from an archive under another, its claims with it', async () => {
    const { db, people, key } = await withFeature()
    const from = migratedDb()
    from.run(
      from.sql.insertInto('feature').values({ key, label: 'Rush', quantity: 'length', created_at: NOW.toISOString() }),
    )
    makeClaim(from, { original_id: makeOriginal(from), feature: key, value: '3' })
    const file = await exportTo(from, makeDataDir())
    const { remarks } = await asViewer(people.other, () => importFrom(db, makeDataDir(), file))
    expect(remarks).toEqual([])
    const rows = db.raw.prepare('select label, owner_id from feature order by rowid').all()
    expect(rows).toEqual([
      { label: LABEL, owner_id: people.owner.id },
      { label: 'Rush', owner_id: people.other.id },
    ])
    expect(db.raw.prepare('select f.label from claim c join feature f on f.key = c.feature').pluck().all()).toEqual([
      'Rush',
    ])
  })

  test('goes to the first keeper, and to the heir of a member who leaves', async () => {
    const alone = migratedDb()
    await startApp(alone).post('/features', { label: LABEL, kind: 'count' })
    const ownerOf = (db: typeof alone) => db.raw.prepare('select owner_id from feature').pluck().get()
    expect([ownerOf(alone), alone.raw.prepare('select key from feature').pluck().get()]).toEqual([
      null,
      'own-quillwort-knots',
    ])
    insertFirstKeeper(alone, { name: 'Orla', signInName: 'orla', passwordHash: '' }, NOW)
    expect(ownerOf(alone)).toBe(1)
    const { db, people } = await withFeature()
    endMembership(db, people.owner.id, { heirId: people.keeper.id, toBin: true }, NOW)
    expect(ownerOf(db)).toBe(people.keeper.id)
  })
})

test('the step that gives features an owner takes whoever made the oldest claim about them, else the first keeper', () => {
  const db = openDb(':memory:')
  const at = migrations.findIndex(({ name }) => name.endsWith('feature-owner'))
  migrate(db.raw, { migrations: migrations.slice(0, at) })
  db.raw.exec(`insert into member (name, sign_in_name, password_hash, role, created_at) values
    ('Orla', 'orla', '', 'keeper', ''), ('Maren', 'maren', '', 'member', '');
    insert into feature (key, label, quantity, created_at) values ('own-a', 'A', 'text', ''), ('own-b', 'B', 'text', '')`)
  makeClaim(db, { original_id: makeOriginal(db, { owner_id: 2 }), feature: 'own-a' })
  makeClaim(db, { original_id: makeOriginal(db, { owner_id: 1 }), feature: 'own-a' })
  migrate(db.raw, { migrations: migrations.slice(0, at + 1) })
  expect(db.raw.prepare('select key, owner_id from feature order by key').all()).toEqual([
    { key: 'own-a', owner_id: 2 },
    { key: 'own-b', owner_id: 1 },
  ])
})
