import { describe, expect, test } from 'vitest'
import { findRevision, findRevisionById, listRevisionChoices } from '../../server/draft/revision-queries.ts'
import { startApp } from '../support/start.ts'
import { makeDraft, STEP, STEP_TYPED } from './sample.ts'

const CHANGED = { ...STEP_TYPED, turning: '6F x8\n6B x8', note: 'Straight, to see the yarn.' }

describe('GET /drafts/:id/edit', () => {
  test('is filled from the newest revision and draws it', async () => {
    const { db, get } = startApp()
    makeDraft(db)
    const { text } = await get('/drafts/1/edit')
    expect(text).toContain('6F x4\n1F 4B 1F x2\n6B x4\n1B 4F 1B x2</textarea>')
    expect(text).toContain('1: S m m m m border\n2: S m m w w')
    expect(text).toContain('<svg xmlns="http://www.w3.org/2000/svg"')
    expect(text).not.toContain('name="title"')
  })

  test('is filled from the revision that the address names', async () => {
    const { db, get, post } = startApp()
    makeDraft(db)
    await post('/drafts/1/revisions', CHANGED)
    expect((await get('/drafts/1/edit')).text).toContain('6F x8\n6B x8</textarea>')
    const older = await get('/drafts/1/edit?revision=1')
    expect(older.text).toContain('6F x4\n1F 4B 1F x2')
    expect(older.text).toContain('the older revision 1; the newest is 2')
    expect((await get('/drafts/1/edit?revision=3')).status).toBe(404)
    expect((await get('/drafts/1/edit?revision=x')).status).toBe(404)
  })
})

describe('POST /drafts/:id/revisions', () => {
  test('keeps a new revision with its note, and the earlier one as it was', async () => {
    const { db, get, post } = startApp()
    makeDraft(db)
    const answer = await post('/drafts/1/revisions', CHANGED)
    expect(answer.status).toBe(303)
    expect(answer.headers.location).toBe('/drafts/1?done=revision')
    const shown = await get('/drafts/1')
    expect(shown.text).toContain('Draft, revision 2 of 2')
    expect(shown.text).toContain('Straight, to see the yarn.')
    expect(findRevision(db, 1, 1)?.draft).toEqual(STEP)
    expect(findRevision(db, 1, 2)?.picks).toBe(16)
  })

  test('without any change says so and makes none, however it is typed', async () => {
    const { db, post } = startApp()
    makeDraft(db)
    const answer = await post('/drafts/1/revisions', {
      ...STEP_TYPED,
      turning: STEP.picks.join(' # same\n'),
      note: 'Hm.',
    })
    expect(answer.status).toBe(200)
    expect(answer.text).toContain('Nothing differs from revision 1, so no new revision was made.')
    expect(answer.text).toContain('Hm.')
    expect(db.all(db.sql.selectFrom('draft_revision').select('number'))).toEqual([{ number: 1 }])
  })

  test('after the draft was given another title is still no change by itself', async () => {
    const { db, post } = startApp()
    makeDraft(db)
    await post('/drafts/1', { title: 'Another title', notes: '', original: '' })
    expect((await post('/drafts/1/revisions', STEP_TYPED)).text).toContain('no new revision was made')
    await post('/drafts/1/revisions', CHANGED)
    expect(findRevision(db, 1, 2)?.draft.title).toBe('Another title')
  })

  test('back to an older state is a change', async () => {
    const { db, post } = startApp()
    makeDraft(db)
    await post('/drafts/1/revisions', CHANGED)
    expect((await post('/drafts/1/revisions?from=1', STEP_TYPED)).status).toBe(303)
    expect(findRevision(db, 1, 3)?.document).toBe(findRevision(db, 1, 1)?.document)
  })

  test('with “Draw it” draws what is typed and makes none', async () => {
    const { db, post } = startApp()
    makeDraft(db)
    const answer = await post('/drafts/1/revisions', { ...CHANGED, draw: 'yes' })
    expect(answer.status).toBe(200)
    expect(answer.text).toContain('6 tablets, 16 picks.')
    expect(findRevision(db, 1, 2)).toBeUndefined()
  })

  test('that cannot be read shows the form again with every word', async () => {
    const { db, post } = startApp()
    makeDraft(db)
    const answer = await post('/drafts/1/revisions', { ...CHANGED, threading: 'S m m\nZ m m w w # "edge"' })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain('2 of 4 holes found')
    expect(answer.text).toContain('S m m\nZ m m w w # &quot;edge&quot;</textarea>')
    expect(answer.text).toContain('Straight, to see the yarn.')
    expect(findRevision(db, 1, 2)).toBeUndefined()
  })

  test('of a draft that is not there keeps nothing', async () => {
    expect((await startApp().post('/drafts/9/revisions', STEP_TYPED)).status).toBe(404)
  })
})

describe('GET /drafts/:id/revisions/:number', () => {
  test('shows an older revision and says which is the newest', async () => {
    const { db, get, post } = startApp()
    makeDraft(db)
    await post('/drafts/1/revisions', CHANGED)
    const { text } = await get('/drafts/1/revisions/1')
    expect(text).toContain('6 tablets, 12 picks in the repeat')
    expect(text).toContain('See the newest, revision 2')
  })

  test.each(['2', '0', 'one'])('number %s is not there', async (number) => {
    const { db, get } = startApp()
    makeDraft(db)
    const answer = await get(`/drafts/1/revisions/${number}`)
    expect(answer.status).toBe(404)
    expect(answer.text).toContain('There is no revision at this address.')
  })
})

describe('draft_revision', () => {
  test('is never changed, not even by hand', () => {
    const { db } = startApp()
    makeDraft(db)
    expect(() => db.raw.exec(`update draft_revision set note = 'other'`)).toThrow('a draft revision is never changed')
  })
})

test('listRevisionChoices(db) gives every revision, the newest of a draft first', () => {
  const { db } = startApp()
  makeDraft(db)
  makeDraft(db, { title: 'A plain edge' })
  expect(listRevisionChoices(db).map(({ title, number }) => [title, number])).toEqual([
    ['A plain edge', 1],
    ['Step for a hem', 1],
  ])
})

test('findRevisionById(db, id) gives the draft as it was kept', () => {
  const { db } = startApp()
  const { revisionId } = makeDraft(db)
  expect(findRevisionById(db, revisionId)).toMatchObject({ number: 1, draft: STEP, tablets: 6, twistNeutral: true })
  expect(findRevisionById(db, 99)).toBeUndefined()
})
