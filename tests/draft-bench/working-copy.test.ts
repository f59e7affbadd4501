import request from 'supertest'
import { describe, expect, test } from 'vitest'
import { benchOf, draftOn } from '../../shared/draft/edit/bench.ts'
import { turnOver } from '../../shared/draft/edit/turn-edit.ts'
import { applyEdit } from '../../shared/draft/edit/step.ts'
import { documentText } from '../../shared/draft/document-text.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import { insertFirstKeeper } from '../../server/member/queries.ts'
import { findDraft } from '../../server/draft/queries.ts'
import { findNewestRevision, listRevisions } from '../../server/draft/revision-queries.ts'
import { makePeople } from '../support/people.ts'
import { makeDraft, makeRevision } from '../support/rows.ts'
import { makeDataDir, migratedDb, NOW, startApp, type Started } from '../support/start.ts'

const DRAFT: Draft = {
  title: 'Ladder',
  colours: { m: { name: 'madder', hex: '#9c3b2e' }, w: { name: 'undyed', hex: '#e9dfc8' } },
  weft: 'm',
  tablets: [
    { threading: 'S', holes: ['m', 'm', 'w', 'w'], start: 'A', part: 'pattern' },
    { threading: 'Z', holes: ['m', 'w', 'w', 'm'], start: 'B', part: 'pattern' },
  ],
  picks: ['2F', '1F 1B', '2B'],
}
const CHANGED = (() => {
  const bench = benchOf(DRAFT)
  return draftOn(applyEdit(bench, turnOver(bench, { tablets: [0], from: 0, to: 0 })))
})()

const send = ({ app }: Pick<Started, 'app'>, path: string, body: unknown) =>
  request(app)
    .post(path)
    .set('Host', 'localhost:4180')
    .set('Origin', 'http://localhost:4180')
    .send(body as object)

function startBench(owner_id: number | null = null, db = migratedDb()) {
  const id = makeDraft(db, { owner_id })
  makeRevision(db, { draft_id: id, document: documentText(DRAFT), tablets: 2, picks: 3 })
  return { ...startApp(db), id, bench: `/drafts/${id}/bench` }
}

describe('POST /drafts/:id/bench/copy', () => {
  test('keeps the working copy, which the bench opens with, and goes up a version each time', async () => {
    const started = startBench()
    const { bench, get, broken } = started
    expect((await get(`${bench}/copy.json`)).body).toMatchObject({
      base: 1,
      newest: 1,
      version: 0,
      savedAt: '',
      document: DRAFT,
    })
    const answer = await send(started, `${bench}/copy`, { document: CHANGED, base: 1, version: 0 })
    expect([answer.status, answer.body]).toEqual([200, { version: 1, savedAt: NOW.toISOString() }])
    expect((await get(`${bench}/copy.json`)).body).toMatchObject({ document: CHANGED, version: 1, base: 1 })
    expect((await send(started, `${bench}/copy`, { document: DRAFT, base: 1, version: 1 })).body.version).toBe(2)
    expect((await get(bench)).text).toContain(
      'This is your working copy of 13:00 on 24 November 2026, begun from revision 1',
    )
    expect(broken).toEqual([])
  })

  test('writes nothing over what another window has kept meanwhile', async () => {
    const started = startBench()
    await send(started, `${started.bench}/copy`, { document: CHANGED, base: 1, version: 0 })
    const late = await send(started, `${started.bench}/copy`, { document: DRAFT, base: 1, version: 0 })
    expect([late.status, late.body.version]).toEqual([409, 1])
    expect((await started.get(`${started.bench}/copy.json`)).body.document).toEqual(CHANGED)
  })

  test.each([
    ['no document', { base: 1, version: 0 }],
    ['a document that weaves nothing', { document: { ...DRAFT, picks: ['3F'] }, base: 1, version: 0 }],
    ['a version that is no number', { document: DRAFT, base: 1, version: 'x' }],
  ])('refuses %s with a sentence and keeps nothing', async (_what, body) => {
    const started = startBench()
    const answer = await send(started, `${started.bench}/copy`, body)
    expect([answer.status, typeof answer.body.why]).toEqual([422, 'string'])
    expect((await started.get(`${started.bench}/copy.json`)).body.version).toBe(0)
  })

  test('from a foreign page changes nothing', async () => {
    const { app, bench } = startBench()
    const sent = request(app).post(`${bench}/copy`).set('Host', 'localhost:4180').set('Origin', 'http://elsewhere.test')
    expect((await sent.send({ document: CHANGED, base: 1, version: 0 })).status).toBe(403)
  })
})

describe('POST /drafts/:id/bench/discard', () => {
  test('throws the working copy away; the bench opens with the newest revision again', async () => {
    const started = startBench()
    await send(started, `${started.bench}/copy`, { document: CHANGED, base: 1, version: 0 })
    const answer = await started.post(`${started.bench}/discard`)
    expect([answer.status, answer.headers.location]).toEqual([303, `${started.bench}?done=copy-gone`])
    expect((await started.get(`${started.bench}/copy.json`)).body).toMatchObject({ document: DRAFT, version: 0 })
  })
})

describe('POST /drafts/:id/bench/revision', () => {
  test('makes a revision with its note, and the working copy is gone', async () => {
    const started = startBench()
    const { db, id, bench } = started
    await send(started, `${bench}/copy`, { document: CHANGED, base: 1, version: 0 })
    const answer = await send(started, `${bench}/revision`, {
      document: CHANGED,
      note: ' turned \r\n over ',
      newest: 1,
    })
    expect([answer.status, answer.body]).toEqual([201, { number: 2, path: `/drafts/${id}?done=revision` }])
    expect(findNewestRevision(db, id)).toMatchObject({ number: 2, note: 'turned \n over', draft: CHANGED })
    expect((await started.get(`${bench}/copy.json`)).body).toMatchObject({ version: 0, base: 2 })
  })

  test('with another revision saved meanwhile writes nothing; once that one is known, both stay', async () => {
    const started = startBench()
    const { db, id, bench } = started
    await send(started, `${bench}/revision`, { document: CHANGED, note: 'theirs', newest: 1 })
    const mine = { ...CHANGED, picks: ['2B', '2B', '2B'] }
    await send(started, `${bench}/copy`, { document: mine, base: 1, version: 0 })
    const late = await send(started, `${bench}/revision`, { document: mine, note: 'mine', newest: 1 })
    expect([late.status, late.body.newest]).toEqual([409, 2])
    expect(late.body.why).toContain('saving once more keeps yours as revision 3')
    expect((await started.get(bench)).text).toContain('Revision 2 has come since')
    expect((await send(started, `${bench}/revision`, { document: mine, note: 'mine', newest: 2 })).status).toBe(201)
    expect(listRevisions(db, id).map(({ note }) => note)).toEqual(['mine', 'theirs', ''])
  })

  test.each([
    ['turned\u0007 over', 'The note: Please leave out control characters. Nothing was kept as a revision.'],
    ['x'.repeat(2001), 'The note: Please keep this under 2000 characters. Nothing was kept as a revision.'],
    [7, 'The note: Invalid input: expected string, received number Nothing was kept as a revision.'],
  ])('with a note that no archive would take back says so and keeps nothing', async (note, why) => {
    const started = startBench()
    const answer = await send(started, `${started.bench}/revision`, { document: CHANGED, note, newest: 1 })
    expect([answer.status, answer.body.why]).toEqual([422, why])
    expect(listRevisions(started.db, started.id)).toHaveLength(1)
  })

  test('of what is there already says so', async () => {
    const started = startBench()
    const answer = await send(started, `${started.bench}/revision`, { document: DRAFT, note: '', newest: 1 })
    expect([answer.status, answer.body.why]).toEqual([
      422,
      'Nothing differs from revision 1, so no new revision was made.',
    ])
  })
})

describe('a working copy', () => {
  test('is its member’s alone: whoever inherits the draft does not see it, and it goes when they leave', async () => {
    const db = migratedDb()
    const people = makePeople(db)
    const { id, bench } = startBench(people.owner.id, db)
    const own = startApp(db, makeDataDir(), people.owner)
    expect((await send(own, `${bench}/copy`, { document: CHANGED, base: 1, version: 0 })).status).toBe(200)
    db.run(db.sql.updateTable('draft').set({ owner_id: people.other.id }).where('id', '=', id))
    const other = startApp(db, makeDataDir(), people.other)
    expect((await other.get(`${bench}/copy.json`)).body).toMatchObject({ version: 0, document: DRAFT })
    expect((await own.get(`${bench}/copy.json`)).status).toBe(404)
  })

  test('of the lone maker is the first keeper’s', async () => {
    const started = startBench()
    await send(started, `${started.bench}/copy`, { document: CHANGED, base: 1, version: 0 })
    const keeper = { name: 'Maren', signInName: 'maren', passwordHash: 'x' }
    const id = insertFirstKeeper(started.db, keeper, NOW) as number
    const viewer = { kind: 'member', id, name: 'Maren', role: 'keeper' } as const
    const own = startApp(started.db, makeDataDir(), viewer)
    expect((await own.get(`${started.bench}/copy.json`)).body).toMatchObject({ version: 1, document: CHANGED })
  })
})

describe('/drafts/new/bench', () => {
  test('lays out a plain band as revision 1 and opens it', async () => {
    const { db, get, post } = startApp()
    expect((await get('/drafts/new/bench')).status).toBe(200)
    const answer = await post('/drafts/new/bench', { title: 'Fen band', tablets: '10', picks: '16' })
    expect([answer.status, answer.headers.location]).toEqual([303, '/drafts/1/bench'])
    expect(findDraft(db, 1)?.title).toBe('Fen band')
    expect(findNewestRevision(db, 1)).toMatchObject({ number: 1, tablets: 10, picks: 16 })
  })

  test('shows the form again with what was typed and a sentence beside each field', async () => {
    const { db, post } = startApp()
    const answer = await post('/drafts/new/bench', { title: '', tablets: '401', picks: 'many' })
    expect(answer.status).toBe(422)
    for (const words of ['Please give the draft a title.', 'From 1 to 400, please.', 'value="401"', 'value="many"'])
      expect(answer.text).toContain(words)
    const gone = await post('/drafts/new/bench', { title: 'Fen', tablets: '4', picks: '4', original: '77' })
    expect([gone.status, gone.text.includes('This original is not in the notebook any more.')]).toEqual([422, true])
    expect(findDraft(db, 1)).toBeUndefined()
  })
})
