import request from 'supertest'
import { describe, expect, test } from 'vitest'
import { insertDraft, OWN_FRAME } from '../../server/draft/queries.ts'
import { insertRevision } from '../../server/draft/revision-queries.ts'
import { listLoomSteps, placeOf } from '../../server/loom/queries.ts'
import { updatePiece, findPiece } from '../../server/piece/queries.ts'
import { savePlan } from '../../server/plan/queries.ts'
import type { Viewer } from '../../server/rights/viewer.ts'
import { LADDER, enteredOf } from '../plan/facts.ts'
import { makePiece } from '../support/make-piece.ts'
import { makePeople, WHO } from '../support/people.ts'
import { makePiece as makePieceRow } from '../support/rows.ts'
import { migratedDb, startApp } from '../support/start.ts'
import { DEVICE, makeStep, SENT_AT, uidOf } from './make-step.ts'

const AT = '2026-11-24T10:00:00.000Z'

function start(viewer?: Viewer) {
  const started = startApp(undefined, undefined, viewer)
  const { db, app } = started
  const own = { draft: LADDER, notes: '', originalId: undefined, convention: OWN_FRAME }
  const { id: draft, revisionId } = insertDraft(db, own, AT)
  const piece = makePiece(db, { name: 'Ferry belt', draftRevisionId: revisionId })
  const path = `/pieces/${piece}/loom`
  const send = (body: unknown) =>
    request(app)
      .post(`${path}/steps`)
      .set({ Host: 'localhost:4180', Origin: 'http://localhost:4180' })
      .send(body as object)
  const places = () => listLoomSteps(db, piece).map(({ place }) => place)
  return { ...started, piece, draft, revisionId, path, send, places }
}

const sent = (steps: readonly object[], more: object = {}) => ({ device: DEVICE, sentAt: SENT_AT, steps, ...more })

describe('POST /pieces/:id/loom/steps', () => {
  test('keeps each step once, however often it is sent, and says where the work stands', async () => {
    const { send, places, db, piece } = start()
    const steps = [makeStep(1), makeStep(2), makeStep(3, { kind: 'slip', place: 2, note: 'tablet 4' })]
    const { status, body } = await send(sent(steps))
    expect(status).toBe(200)
    expect(body).toMatchObject({ kept: 3, latest: { place: 2, uid: uidOf(3), device: DEVICE, kind: 'slip' } })
    expect((await send(sent(steps))).body).toMatchObject({ kept: 0 })
    expect(places()).toEqual([1, 2, 2])
    expect(placeOf(db, piece)).toBe(2)
    expect(listLoomSteps(db, piece)[2]).toMatchObject({ note: 'tablet 4', memberId: undefined, zone: 'Europe/Berlin' })
  })

  test('puts steps that come late where they belong', async () => {
    const { send, places, db, piece } = start()
    await send(sent([makeStep(3), makeStep(4)]))
    await send(sent([makeStep(2), makeStep(1)]))
    expect(places()).toEqual([1, 2, 3, 4])
    expect(placeOf(db, piece)).toBe(4)
  })

  test('of two devices the later step wins, and both histories stay', async () => {
    const { send, places, db, piece } = start()
    await send(sent([makeStep(1), makeStep(2)]))
    const other = { device: 'e'.repeat(32) }
    await send(sent([makeStep(10, { place: 1, kind: 'back' })], other))
    expect(placeOf(db, piece)).toBe(1)
    // Kept before the other one's, sent after it.
    await send(sent([makeStep(3)]))
    expect(placeOf(db, piece)).toBe(1)
    expect(places()).toEqual([1, 2, 3, 1])
  })

  test('a step comes after all that its device knew of, though its clock is some seconds behind', async () => {
    const { send, db, piece } = start()
    const { body } = await send(sent([makeStep(60)]))
    const after = (body as { latest: { at: string } }).latest.at
    await send(sent([makeStep(57, { place: 61, after })], { device: 'e'.repeat(32) }))
    expect(placeOf(db, piece)).toBe(61)
  })

  test('reckons a clock that is off onto the server’s, and keeps what it said', async () => {
    const { send, db, piece } = start()
    await send(sent([makeStep(1)], { sentAt: '2026-11-24T11:00:02.000Z' }))
    expect(listLoomSteps(db, piece)[0]).toMatchObject({
      at: '2026-11-24T11:59:59.000Z',
      deviceAt: '2026-11-24T11:00:01.000Z',
      receivedAt: '2026-11-24T12:00:00.000Z',
    })
  })

  test('keeps the revision that a step names, and a step that names one that is not there', async () => {
    const { send, db, piece, revisionId } = start()
    await send(sent([makeStep(1, { revision: revisionId }), makeStep(2, { revision: 999 })]))
    expect(listLoomSteps(db, piece).map(({ draftRevisionId }) => draftRevisionId)).toEqual([revisionId, undefined])
  })

  test('with no step asks where the work stands', async () => {
    const { send, revisionId } = start()
    expect((await send(sent([]))).body).toMatchObject({ kept: 0, latest: null, revision: revisionId })
  })

  test.each([
    ['steps[1].place', [makeStep(1), makeStep(2, { place: -1 })]],
    ['steps[0].place', [makeStep(1, { place: 1.5 })]],
    ['steps[0].uid', [makeStep(1, { uid: 'A'.repeat(32) })]],
    ['steps[0].kind', [{ ...makeStep(1), kind: 'danced' }]],
    ['steps[0].deviceAt', [makeStep(1, { deviceAt: '2026-02-30T11:00:00.000Z' })]],
    ['steps[0].zone', [makeStep(1, { zone: 'Fenland/Drennet' })]],
    ['steps[0].note', [makeStep(1, { note: 'a\u0000b' })]],
    ['steps[0].colour', [{ ...makeStep(1), colour: 'red' }]],
    ['steps', Array.from({ length: 201 }, (_, at) => makeStep(at + 1))],
  ])('refuses what is no step with its place, %s, and keeps nothing of it', async (path, steps) => {
    const { send, places } = start()
    const { status, body } = await send(sent(steps))
    expect([status, (body as { path: string }).path]).toEqual([422, path])
    expect(places()).toEqual([])
  })

  test('from a foreign page is refused', async () => {
    const { app, path, places } = start()
    const answer = await request(app)
      .post(`${path}/steps`)
      .set({ Host: 'localhost:4180', Origin: 'http://elsewhere.test' })
      .send(sent([makeStep(1)]))
    expect([answer.status, places()]).toEqual([403, []])
  })
})

describe('steps', () => {
  test('are never changed and never deleted, but with their piece', async () => {
    const { send, db, piece } = start()
    await send(sent([makeStep(1)]))
    for (const change of ["kind = 'set'", 'place = 9', "at = '2026-01-01T00:00:00.000Z'", "note = 'x'", 'seq = 8'])
      expect(() => db.raw.exec(`update loom_step set ${change}`)).toThrow('never changed')
    expect(() => db.raw.exec('delete from loom_step')).toThrow('never deleted')
    db.raw.prepare('delete from piece where id = ?').run(piece)
    expect(db.raw.prepare('select count(*) from loom_step').pluck().get()).toBe(0)
  })

  test('stay when their draft is gone for good', async () => {
    const { send, db, piece, revisionId, draft } = start()
    await send(sent([makeStep(1, { revision: revisionId })]))
    db.raw.prepare('update piece set draft_revision_id = null').run()
    db.raw.prepare('delete from draft where id = ?').run(draft)
    expect(listLoomSteps(db, piece)).toMatchObject([{ place: 1, draftRevisionId: undefined }])
  })
})

describe('GET /pieces/:id/loom', () => {
  test('shows the pick after the place, by its counts', async () => {
    const { send, get, path } = start()
    await send(sent([makeStep(1)]))
    const { status, text } = await get(path)
    expect(status).toBe(200)
    expect(text).toContain('<b data-pick>2</b>')
    expect(text).toContain('value="1" data-from')
  })

  test('without a draft says what it needs', async () => {
    const { db, get } = startApp()
    const { text } = await get(`/pieces/${makePieceRow(db)}/loom`)
    expect(text).toContain('It has no draft yet')
  })

  test('says how far the end of the plan is, and where it turns the borders', async () => {
    const { db, get, path, piece } = start()
    const draft = {
      ...LADDER,
      tablets: LADDER.tablets.map((tablet, at) => ({ ...tablet, part: at === 0 ? 'border' : 'pattern' }) as const),
      picks: LADDER.picks.map(() => `${LADDER.tablets.length}F`),
    }
    const { revisionId } = insertDraft(db, { draft, notes: '', originalId: undefined, convention: OWN_FRAME }, AT)
    db.raw.prepare('update piece set draft_revision_id = ? where id = ?').run(revisionId, piece)
    const entered = enteredOf({ wovenCm: '20', picksPerCm: '10', borders: 'reverse', reversals: '120' })
    savePlan(db, { pieceId: piece, tablets: draft.tablets, entered }, AT)
    const { text } = await get(path)
    expect(text).toMatch(/data-ahead>\d+ picks to go</)
    expect(text).toContain('reverse after pick 120')
    expect(text).toContain('The borders are turned by the plan: the other way after pick 120.')
  })

  test('says that the draft is another one now, and keeps the place', async () => {
    const { db, send, get, path, piece, draft, revisionId } = start()
    await send(sent([makeStep(5, { revision: revisionId })]))
    const longer = { ...LADDER, picks: [...LADDER.picks, ...LADDER.picks] }
    insertRevision(db, draft, { draft: longer, note: '' }, AT)
    expect((await get(path)).text).toContain('There is a newer revision of the draft, 2.')
    const newest = Number(db.raw.prepare('select max(id) from draft_revision').pluck().get())
    updatePiece(db, piece, { ...findPiece(db, piece)!, draftRevisionId: newest, yarns: [] }, AT)
    const { text } = await get(path)
    expect(text).toContain('The draft is another one than at the last step: revision 2')
    expect(text).toContain('5 picks of the piece are woven')
  })

  test('has a policy that lets it be installed, as no other page has', async () => {
    const { get, path } = start()
    expect((await get(path)).headers['content-security-policy']).toContain("manifest-src 'self'")
    expect((await get('/pieces')).headers['content-security-policy']).not.toContain('manifest-src')
    const worker = await get('/loom/worker.js')
    expect(worker.headers['service-worker-allowed']).toBe('/pieces/')
    const manifest = JSON.parse((await get(`${path}/manifest.webmanifest`)).text) as Record<string, unknown>
    expect(manifest).toMatchObject({ start_url: path, scope: path, display: 'standalone' })
    expect((await get(`${path}/icon.svg`)).status).toBe(200)
  })
})

describe('POST /pieces/:id/loom, without script', () => {
  test.each([
    [{ kind: 'woven', from: '4' }, 'woven', 5],
    [{ kind: 'back', from: '4' }, 'back', 3],
    [{ kind: 'back', from: '0' }, 'back', 0],
    [{ kind: 'unwoven', from: '4' }, 'unwoven', 3],
    [{ kind: 'unwoven', from: '4', picks: '3' }, 'unwoven', 1],
    [{ kind: 'slip', from: '4', note: 'tablet 2' }, 'slip', 4],
    [{ kind: 'pause', from: '4' }, 'pause', 4],
    [{ kind: 'set', from: '0', repeat: '2', pick: '1' }, 'set', LADDER.picks.length],
  ] as const)('%o is kept as a step', async (fields, kind, place) => {
    const { post, path, db, piece } = start()
    const { status, headers } = await post(path, { ...fields })
    expect([status, headers.location]).toEqual([303, path])
    expect(listLoomSteps(db, piece)).toMatchObject([{ kind, place, note: 'note' in fields ? fields.note : '' }])
  })

  test.each([
    [{ kind: 'unwoven', from: '2', picks: '3' }, 'Only 2 are woven.'],
    [{ kind: 'set', from: '0', repeat: '2', pick: '9999' }, 'Please type a whole number from 1 to'],
    [{ kind: 'set', from: '0', repeat: '2' }, 'Please say at which the next pick stands.'],
    [{ kind: 'danced', from: '0' }, 'Please use one of the buttons.'],
  ])('%o comes back with what is wrong', async (fields, says) => {
    const { post, path, places } = start()
    const { status, text } = await post(path, fields)
    expect(status).toBe(422)
    expect(text).toContain(says)
    expect(places()).toEqual([])
  })
})

describe('words at the loom', () => {
  test('stand on the page as they were typed, and never as a part of it', async () => {
    const { send, get, path } = start()
    const note = '<img src=x onerror=alert(1)>"\u2028{{this}}'
    await send(sent([makeStep(1, { kind: 'slip', note })]))
    for (const page of [path, `${path}/file.html`]) {
      const { text } = await get(page)
      expect(text).not.toContain('<img')
      expect(text).toContain('&lt;img src')
    }
  })
})

describe('a page that is taken along', () => {
  test('GET …/file.html stands by itself: a policy, styles and script, and no address of the notebook', async () => {
    const { get, path } = start()
    const { headers, text } = await get(`${path}/file.html`)
    expect(headers['content-disposition']).toContain('attachment')
    expect(text).toContain("default-src 'none'")
    expect(
      text.match(/(?:src|href|action)="(?!data:)[^"]*"/g)?.filter((found) => !/="(#[^"]*)?"$/.test(found)) ?? [],
    ).toEqual([])
  })

  test('POST …/file brings its steps in, each once', async () => {
    const { post, path, places, db, piece } = start()
    const uid = String(db.raw.prepare('select uid from piece where id = ?').pluck().get(piece))
    const file = {
      format: 'fellmark-loom-steps',
      version: 1,
      piece: uid,
      device: DEVICE,
      steps: [makeStep(1), makeStep(2)],
    }
    for (const time of [1, 2]) {
      expect((await post(`${path}/file`, { steps: JSON.stringify(file) })).status, `${time}`).toBe(303)
      expect(places()).toEqual([1, 2])
    }
  })

  test.each([
    ['{', 'This is no JSON.'],
    ['{"format":"other"}', 'This is no file of steps at the loom.'],
    [
      JSON.stringify({ format: 'fellmark-loom-steps', version: 1, piece: 'f'.repeat(32), device: DEVICE, steps: [] }),
      'of another piece',
    ],
    [
      JSON.stringify({
        format: 'fellmark-loom-steps',
        version: 1,
        piece: 'f'.repeat(32),
        device: DEVICE,
        steps: [makeStep(1, { seq: 0 })],
      }),
      'steps[0].seq',
    ],
  ])('POST …/file refuses %s', async (steps, says) => {
    const { post, path, places } = start()
    const { status, text } = await post(`${path}/file`, { steps })
    expect(status).toBe(422)
    expect(text).toContain(says)
    expect(places()).toEqual([])
  })
})

describe('the loom page is its makers’ alone', () => {
  const db = migratedDb()
  const people = makePeople(db)
  const own = { draft: LADDER, notes: '', originalId: undefined, convention: OWN_FRAME }
  const { revisionId } = insertDraft(db, own, AT)
  db.raw.prepare("update draft set visibility = 'published'").run()
  const piece = makePieceRow(db, { owner_id: people.owner.id, visibility: 'published', draft_revision_id: revisionId })
  db.run(db.sql.insertInto('co_maker').values({ piece_id: piece, member_id: people.coMaker.id }))
  const MAY = { owner: 200, coMaker: 200, other: 403, guest: 403, keeper: 403 } as const

  test.each(WHO.filter((who) => who !== 'lone'))('%s', async (who) => {
    const { app, get } = startApp(db, undefined, people[who])
    const expected = who === 'anonymous' ? undefined : MAY[who]
    const shown = await get(`/pieces/${piece}/loom`)
    const stepped = await request(app)
      .post(`/pieces/${piece}/loom/steps`)
      .set({ Host: 'localhost:4180', Origin: 'http://localhost:4180' })
      .send(sent([]))
    if (expected === undefined) expect([shown.status, stepped.status].every((status) => status !== 200)).toBe(true)
    else expect([shown.status, stepped.status]).toEqual([expected, expected])
    const page = await get(`/pieces/${piece}`)
    expect(page.text.includes(`/pieces/${piece}/loom"`)).toBe(expected === 200)
  })
})
