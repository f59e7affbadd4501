import { describe, expect, test } from 'vitest'
import { findDraft, insertDraft } from '../../server/draft/queries.ts'
import { findNewestRevision, findRevision } from '../../server/draft/revision-queries.ts'
import { NOTHING_STATED, OUR_FRAME } from '../../shared/draft/convention/card.ts'
import { fromFrame, toFrame } from '../../shared/draft/convention/convert.ts'
import { canonicalDraft } from '../../shared/draft/document.ts'
import { writeDraftEntry } from '../../shared/draft/entry/draft-entry.ts'
import { writtenText } from '../../shared/draft/convention/written.ts'
import { makeDraft, makePiece, STEP, STEP_DOCUMENT, STEP_TYPED } from '../draft-page/sample.ts'
import { makeOriginal } from '../support/make.ts'
import { NOW, startApp } from '../support/start.ts'

const CARD = { ...OUR_FRAME, forward: 'towards', count: 'right', rows: 'upward', sense: 'notStated' } as const
/** Answers as the form sends them. */
const sent = (card: object) => Object.fromEntries(Object.entries(card).map(([name, value]) => [`card-${name}`, value]))
const TYPED_BY_CARD = { ...STEP_TYPED, ...writeDraftEntry(fromFrame(STEP, CARD)), written: 'card', ...sent(CARD) }

describe('POST /drafts with a convention card', () => {
  test('converts what was typed to our frame, keeps the card, and says what was converted and what was open', async () => {
    const { db, get, post } = startApp()
    const answer = await post('/drafts', { ...TYPED_BY_CARD, conventionNote: 'Figure 3, in the quillwort margin' })
    expect(answer.status).toBe(303)
    expect(canonicalDraft(findRevision(db, 1, 1)!.draft)).toEqual(canonicalDraft(STEP))
    expect(findDraft(db, 1)!.written).toEqual({ kind: 'card', card: CARD })
    const { text } = await get('/drafts/1')
    for (const said of [
      'The tablets stand in the opposite order.',
      'The picks stand in the opposite order.',
      'F and B changed places.',
      'not stated; taken as anticlockwise',
      'Where it says so: Figure 3, in the quillwort margin',
    ]) {
      expect(text).toContain(said)
    }
    expect(text).not.toContain('S and Z changed places')
    expect(text).not.toContain('not filled in')
    expect((await get('/search?q=quillwort')).text).toContain('/drafts/1')
    expect((await get('/drafts')).text).toContain('converted by its convention card, 1 of 8 questions not stated')
  })

  test('with “Draw it” draws the converted draft and keeps nothing', async () => {
    const { db, post } = startApp()
    const drawn = await post('/drafts', { ...TYPED_BY_CARD, draw: 'yes' })
    const ours = await post('/drafts', { ...STEP_TYPED, draw: 'yes' })
    const faceOf = (text: string) => /<div class="draft-live-picture"[^>]*>(.*?)<\/div>/s.exec(text)![1]
    expect(faceOf(drawn.text)).toBe(faceOf(ours.text))
    expect(drawn.text).toMatch(/id="f-card-forward-towards" name="card-forward" value="towards" checked/)
    expect(db.all(db.sql.selectFrom('draft').selectAll())).toEqual([])
  })

  test.each([
    ['answers without “typed in”', { ...STEP_TYPED, written: '', 'card-rows': 'upward' }, 'or take them back'],
    ['no such way', { ...STEP_TYPED, written: 'somehow' }, 'Please choose one of the three.'],
    [
      'no such answer',
      { ...STEP_TYPED, written: 'card', 'card-rows': 'sideways' },
      'Please choose one of the answers.',
    ],
    ['a control character', { ...STEP_TYPED, written: 'own', conventionNote: 'a\u0007' }, 'Please leave out control'],
  ])('with %s shows the form again and keeps nothing', async (_, fields, said) => {
    const { db, post } = startApp()
    const answer = await post('/drafts', fields)
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(said)
    expect(answer.text).toContain('S m m w w from B\nmirror')
    expect(db.all(db.sql.selectFrom('draft').selectAll())).toEqual([])
  })
})

test('a draft whose card is not filled in says so on its page, in the list, on its cards and on the page of its piece', async () => {
  const { db, get, post } = startApp()
  const { id, revisionId } = makeDraft(db)
  const piece = makePiece(db, 'First try', revisionId)
  for (const path of [`/drafts/${id}`, '/drafts', `/pieces/${piece}`, `/drafts/${id}/revisions/1/cards`]) {
    expect((await get(path)).text, path).toMatch(/convention card (is )?not filled in/i)
  }
  await post(`/drafts/${id}/convention`, { written: 'own', opened: '1' })
  for (const path of [`/drafts/${id}`, '/drafts', `/pieces/${piece}`, `/drafts/${id}/revisions/1/cards`]) {
    expect((await get(path)).text, path).not.toMatch(/card (is )?not filled in<|card (is )?not filled in\./i)
  }
  expect((await get(`/drafts/${id}`)).text).toContain('Made in our own frame: nothing was converted.')
  expect((await get('/drafts?written=own')).text).toContain('Step for a hem')
  expect((await get('/drafts?written=card')).text).not.toContain('Step for a hem')
})

describe('POST /drafts/:id/convention', () => {
  test('says how it was written down without touching the draft; the history tells the answers in words', async () => {
    const { db, get, post } = startApp()
    const { id } = makeDraft(db)
    const answer = await post(`/drafts/${id}/convention`, { written: 'card', ...sent(CARD), opened: '1' })
    expect(answer.status).toBe(303)
    expect(findNewestRevision(db, id)!.number).toBe(1)
    const history = await get(`/drafts/${id}/history`)
    expect(history.text).toContain('Forward: the top edge comes towards the reader')
    expect(history.text).toContain('convention card not filled in')
    const form = await get(`/drafts/${id}/convention`)
    expect(form.text).toMatch(/id="f-written-card" name="written" value="card" checked/)
    expect(form.text).toMatch(/id="f-card-rows-upward" name="card-rows" value="upward" checked/)
  })

  test('with “convert” keeps the converted draft as a further revision, and from one card to another goes by both', async () => {
    const { db, post } = startApp()
    const { id } = makeDraft(db)
    await post(`/drafts/${id}/convention`, { written: 'card', ...sent(CARD), opened: '1', convert: 'yes' })
    expect(findNewestRevision(db, id)!.number).toBe(2)
    expect(findNewestRevision(db, id)!.draft.picks).toEqual(toFrame(STEP, CARD).picks)
    const other = { ...OUR_FRAME, slant: 'tablet', first: 'topFar' } as const
    await post(`/drafts/${id}/convention`, { written: 'card', ...sent(other), opened: '2', convert: 'yes' })
    expect(canonicalDraft(findNewestRevision(db, id)!.draft)).toEqual(canonicalDraft(toFrame(STEP, other)))
    expect(findRevision(db, id, 1)!.document).toBe(STEP_DOCUMENT)
  })

  test('of a draft that was changed meanwhile keeps nothing, and shows what was chosen', async () => {
    const { db, post } = startApp()
    const { id } = makeDraft(db)
    await post(`/drafts/${id}/convention`, { written: 'own', opened: '1' })
    const answer = await post(`/drafts/${id}/convention`, { written: 'card', ...sent(CARD), opened: '1' })
    expect(answer.status).toBe(409)
    expect(answer.text).toContain('was changed while your form stood open')
    expect(answer.text).toMatch(/id="f-card-rows-upward" name="card-rows" value="upward" checked/)
    expect(findDraft(db, id)!.written).toEqual({ kind: 'own' })
  })

  test('with something wrong shows the form again; of a draft that is not there is 404', async () => {
    const { db, get, post } = startApp()
    const { id } = makeDraft(db)
    expect((await post(`/drafts/${id}/convention`, { written: 'x', opened: '1' })).status).toBe(422)
    for (const path of ['/drafts/99/convention', '/drafts/x/convention']) {
      expect((await get(path)).status, path).toBe(404)
      expect((await post(path, { written: 'own', opened: '1' })).status, path).toBe(404)
    }
  })
})

describe('a further revision of a draft with a card', () => {
  test('may be typed as the card says: the form opens so, and what is saved is in our frame', async () => {
    const { db, get, post } = startApp()
    const { id } = makeDraft(db)
    await post(`/drafts/${id}/convention`, { written: 'card', ...sent(CARD), opened: '1' })
    const form = await get(`/drafts/${id}/edit?as=card`)
    const authors = writeDraftEntry(fromFrame(STEP, CARD))
    expect(form.text).toContain(`\n${authors.turning}</textarea>`)
    expect(form.text).toMatch(/name="asCard" value="yes" checked/)
    const turning = `1F 4B 1F\n${authors.turning}`
    const typed = { ...authors, turning, asCard: 'yes', note: 'One more.' }
    expect((await post(`/drafts/${id}/revisions?from=1`, typed)).status).toBe(303)
    // Their first line is the last pick, turned the other way: 1F 4B 1F is our 1B 4F 1B.
    expect(findNewestRevision(db, id)!.draft.picks).toEqual([...STEP.picks, '1B 4F 1B'])
  })

  test('without the tick stands in our frame, as the form opens by itself', async () => {
    const { db, get, post } = startApp()
    const { id } = makeDraft(db)
    await post(`/drafts/${id}/convention`, { written: 'card', ...sent(CARD), opened: '1' })
    expect((await get(`/drafts/${id}/edit`)).text).toContain(`\n${writeDraftEntry(STEP).turning}</textarea>`)
    await post(`/drafts/${id}/revisions?from=1`, { ...STEP_TYPED, turning: '6F x8' })
    expect(findNewestRevision(db, id)!.draft.picks).toEqual(Array.from({ length: 8 }, () => '6F'))
  })
})

test('the database refuses a convention that is none, and a page of one that cannot be read breaks rather than guesses', async () => {
  const { db, broken, get } = startApp()
  const { id } = makeDraft(db)
  const set = (convention: string) => db.run(db.sql.updateTable('draft').set({ convention }).where('id', '=', id))
  expect(() => set('somehow')).toThrow(/CHECK/)
  set(writtenText({ kind: 'card', card: NOTHING_STATED }))
  expect((await get(`/drafts/${id}`)).text).toContain('Nothing had to be converted')
  set('{}')
  expect((await get(`/drafts/${id}`)).status).toBe(500)
  expect(String(broken[0])).toContain('convention of a draft cannot be read')
})

test('a draft whose card is not filled in says so wherever it is shown', async () => {
  const { db, get } = startApp()
  const originalId = makeOriginal(db)
  const { id } = insertDraft(
    db,
    { draft: STEP, notes: '', originalId, convention: { written: { kind: 'unsaid' }, note: '' } },
    NOW.toISOString(),
  )
  const revision = `/drafts/${id}/revisions/1`
  const shown = [
    `/drafts/${id}`,
    `/drafts/${id}/bench`,
    '/drafts',
    `/originals/${originalId}`,
    `/drafts/overlay?a=1&b=1`,
  ]
  for (const path of [...shown, ...['/tell', '/recover', '/export', '/cards'].map((page) => revision + page)]) {
    expect((await get(path)).text, path).toMatch(/card (?:is )?not filled in/)
  }
})
