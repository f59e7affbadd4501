import { describe, expect, test } from 'vitest'
import type { Db } from '../../server/db/open.ts'
import type { Owned } from '../../server/rights/readable.ts'
import { makePeople, type Who } from '../support/people.ts'
import { makeClaim, makeDraft, makeOriginal, makePiece, makeRevision, makeSource } from '../support/rows.ts'
import { makeDataDir, migratedDb, startApp } from '../support/start.ts'

/** A piece of Maren's with all that it rests on hers as well; the source of its original's claim is Hild's. */
function makeNotebook() {
  const db = migratedDb()
  const people = makePeople(db)
  const owned = { owner_id: people.owner.id }
  const source = makeSource(db, { title: 'Report of the fen', ...owned })
  const letter = makeSource(db, { title: 'Letter to Hild', owner_id: people.other.id })
  const original = makeOriginal(db, { name: 'Fen band', ...owned })
  const draft = makeDraft(db, { title: 'Ladder', ...owned })
  const piece = makePiece(db, {
    ...{ name: 'First trial', for_whom: 'the ferry house', original_id: original },
    draft_revision_id: makeRevision(db, { draft_id: draft }),
    ...owned,
  })
  makeClaim(db, { piece_id: piece, source_id: source })
  makeClaim(db, { original_id: original, source_id: letter })
  const dataDir = makeDataDir()
  const as = (who: Who) => startApp(db, dataDir, people[who])
  return { db, people, as, source, letter, original, draft, piece }
}

const visibilityOf = (db: Db, noun: Owned, id: number) =>
  db.raw.prepare(`select visibility from ${noun} where id = ?`).pluck().get(id)

describe('POST /pieces/:id/share', () => {
  test('shows the piece to members, and to nobody who has not signed in', async () => {
    const { as, piece } = makeNotebook()
    expect((await as('other').get(`/pieces/${piece}`)).status).toBe(404)
    const answer = await as('owner').post(`/pieces/${piece}/share`, { visibility: 'members' })
    expect(answer.headers.location).toBe(`/pieces/${piece}?done=shared#sharing`)
    const { text } = await as('other').get(`/pieces/${piece}`)
    expect(text).toContain('First trial')
    expect(text).toContain('Recorded by Maren. It is shared with everybody who signs in here.')
    expect(text).not.toContain('the ferry house')
    expect((await as('anonymous').get(`/pieces/${piece}`)).headers.location).toMatch(/^\/sign-in\?next=/)
  })

  test('published is read by its address, without signing in, and offers nothing', async () => {
    const { as, piece } = makeNotebook()
    await as('owner').post(`/pieces/${piece}/share`, { visibility: 'published' })
    const { text, status } = await as('anonymous').get(`/pieces/${piece}`)
    expect(status).toBe(200)
    expect(text).toContain('First trial')
    expect(text).not.toMatch(/the ferry house|Maren|\/edit"|claims\/new|sittings\/new|\/delete|history"|method="post"/)
  })

  test('private again is gone for others', async () => {
    const { as, piece } = makeNotebook()
    await as('owner').post(`/pieces/${piece}/share`, { visibility: 'published' })
    await as('owner').post(`/pieces/${piece}/share`, { visibility: 'private' })
    expect((await as('other').get(`/pieces/${piece}`)).status).toBe(404)
  })

  test('names what it rests on and fewer may see, and shares what is theirs of it with one button', async () => {
    const { db, as, source, letter, original, draft, piece } = makeNotebook()
    expect((await as('owner').get(`/pieces/${piece}`)).text).not.toContain('Fewer people may see what it rests on')
    await as('owner').post(`/pieces/${piece}/share`, { visibility: 'members' })
    const { text } = await as('owner').get(`/pieces/${piece}`)
    expect(text).toContain('Fewer people may see what it rests on')
    expect(text).toMatch(/Fen band<\/a> <span class="soft">original, private/)
    expect(text).toMatch(/Ladder<\/a> <span class="soft">draft, private/)
    expect(text).toMatch(/Report of the fen<\/a> <span class="soft">source, private/)
    expect(text).toContain('<li>a source that is not shared with you</li>')
    expect(text).not.toContain('Letter to Hild')
    await as('owner').post(`/pieces/${piece}/share`, { visibility: 'members', grounds: 'yes' })
    expect(visibilityOf(db, 'original', original)).toBe('members')
    expect(visibilityOf(db, 'draft', draft)).toBe('members')
    expect(visibilityOf(db, 'source', source)).toBe('members')
    expect(visibilityOf(db, 'source', letter)).toBe('private')
    const after = (await as('owner').get(`/pieces/${piece}`)).text
    expect(after).toContain('<li>a source that is not shared with you</li>')
    expect(after).not.toContain('Share what is yours of it too')
  })

  test('never makes what it rests on less visible', async () => {
    const { db, as, original, piece } = makeNotebook()
    await as('owner').post(`/originals/${original}/share`, { visibility: 'published' })
    await as('owner').post(`/pieces/${piece}/share`, { visibility: 'members', grounds: 'yes' })
    expect(visibilityOf(db, 'original', original)).toBe('published')
  })

  test.each(['', 'everybody', 'PRIVATE'])('with “%s” changes nothing', async (visibility) => {
    const { db, as, piece } = makeNotebook()
    expect((await as('owner').post(`/pieces/${piece}/share`, { visibility })).status).toBe(422)
    expect(visibilityOf(db, 'piece', piece)).toBe('private')
  })

  test('by a lone maker says that there is nobody, and their pages do not ask', async () => {
    const { db, get, post } = startApp()
    const piece = makePiece(db)
    expect((await get(`/pieces/${piece}`)).text).not.toContain('Who may see this')
    expect((await post(`/pieces/${piece}/share`, { visibility: 'published' })).status).toBe(409)
    expect(visibilityOf(db, 'piece', piece)).toBe('private')
  })
})

describe('POST /pieces/:id/co-makers', () => {
  test('lets somebody see and change the piece, but neither share it nor see what else is private', async () => {
    const { as, people, original, piece } = makeNotebook()
    const answer = await as('owner').post(`/pieces/${piece}/co-makers`, { member: String(people.coMaker.id) })
    expect(answer.headers.location).toBe(`/pieces/${piece}?done=co-maker#sharing`)
    const { text } = await as('coMaker').get(`/pieces/${piece}`)
    expect(text).toContain('the ferry house')
    expect(text).toContain('an original that is not shared with you')
    expect(text).not.toContain('Fen band')
    expect(text).not.toContain('name="visibility"')
    expect((await as('coMaker').get(`/pieces/${piece}/edit`)).status).toBe(200)
    expect((await as('coMaker').post(`/pieces/${piece}/share`, { visibility: 'published' })).status).toBe(403)
    expect((await as('coMaker').get(`/originals/${original}`)).status).toBe(404)
  })

  test('a co-maker who saves the piece loses nothing that they may not see', async () => {
    const { db, as, people, piece, original } = makeNotebook()
    await as('owner').post(`/pieces/${piece}/co-makers`, { member: String(people.coMaker.id) })
    const { get, post } = as('coMaker')
    const { text } = await get(`/pieces/${piece}/edit`)
    const revision = db.raw.prepare('select draft_revision_id from piece').pluck().get()
    expect(text).toContain(`<option value="${original}" selected>an original that is not shared with you</option>`)
    expect(text).toContain(`<option value="${String(revision)}" selected>a draft that is not shared with you</option>`)
    const version = /name="version" value="(\d+)"/.exec(text)?.[1] ?? ''
    const typed = { name: 'Second trial', original: String(original), revision: String(revision), version }
    expect((await post(`/pieces/${piece}`, typed)).status).toBe(303)
    const row = db.raw.prepare('select name, original_id, draft_revision_id from piece where id = ?').get(piece)
    expect(row).toEqual({ name: 'Second trial', original_id: original, draft_revision_id: revision })
  })

  test.each(['guest', 'owner'] as const)('refuses the %s', async (who) => {
    const { db, as, people, piece } = makeNotebook()
    const member = String(people[who].id)
    expect((await as('owner').post(`/pieces/${piece}/co-makers`, { member })).status).toBe(422)
    expect(db.raw.prepare('select count(*) from co_maker').pluck().get()).toBe(0)
  })

  test('and remove takes the right away again', async () => {
    const { as, people, piece } = makeNotebook()
    const member = String(people.coMaker.id)
    await as('owner').post(`/pieces/${piece}/co-makers`, { member })
    expect((await as('owner').get(`/pieces/${piece}`)).text).toContain('Remove<span class="visually-hidden"> Tuve')
    await as('owner').post(`/pieces/${piece}/co-makers/remove`, { member })
    expect((await as('coMaker').get(`/pieces/${piece}`)).status).toBe(404)
  })
})

test('what a member makes is theirs, and private', async () => {
  const { db, people, as } = makeNotebook()
  const { post } = as('other')
  await post('/sources', { title: 'Mine', kind: 'book' })
  await post('/originals', { name: 'Mine' })
  await post('/pieces', { name: 'Mine' })
  await post('/drafts', { title: 'Mine', colours: 'm madder', weft: 'm', threading: 'S m m m m', turning: '1F' })
  for (const noun of ['source', 'original', 'piece', 'draft']) {
    const row = db.raw.prepare(`select owner_id, visibility from ${noun} order by id desc limit 1`).get()
    expect([noun, row]).toEqual([noun, { owner_id: people.other.id, visibility: 'private' }])
  }
})
