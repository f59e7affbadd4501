import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { CAUTIONS } from '../../server/caution.ts'
import { dump } from '../demo/dump.ts'
import {
  makeClaim,
  makeDraft,
  makeOriginal,
  makePiece,
  makeRevision,
  makeSitting,
  makeSource,
} from '../support/rows.ts'
import { migratedDb, startApp } from '../support/start.ts'

describe('GET / of an empty notebook', () => {
  test('says what to do first, in its order, and offers the demo collection', async () => {
    const { text, status } = await startApp().get('/')
    expect(status).toBe(200)
    const steps = ['/originals/new', '/drafts/new', '/pieces/new'].map((path) => text.indexOf(`href="${path}"`))
    expect(steps.every((at) => at > 0)).toBe(true)
    expect([...steps].sort((a, b) => a - b)).toEqual(steps)
    expect(text).toMatch(/<form method="post" action="\/demo">\s*<button[^>]*>Load the demo collection/)
  })

  test('shows a band that is drawn like any other', async () => {
    const { get } = startApp()
    expect((await get('/')).text).toContain('src="/welcome.svg"')
    const picture = await get('/welcome.svg')
    expect(picture.headers['content-type']).toContain('image/svg+xml')
    expect(String(picture.body)).toMatch(/^<svg /)
  })
})

describe('GET /', () => {
  test('shows what is on the loom with its hours and the last sitting', async () => {
    const { db, get } = startApp()
    const original_id = makeOriginal(db, { name: 'Band of Oss' })
    const draft_id = makeDraft(db, { title: 'Fret' })
    const draft_revision_id = makeRevision(db, { draft_id, tablets: 6, picks: 8 })
    const piece_id = makePiece(db, {
      ...{ name: 'Second trial', maker: 'Ilse', original_id, draft_revision_id, on_loom_on: '2026-11-02' },
    })
    makePiece(db, { name: 'Long finished', on_loom_on: '2026-01-02', finished_on: '2026-02-02' })
    makeSitting(db, { piece_id, day: '2026-11-03', minutes: 120, break_minutes: 30, stage: 'thread' })
    makeSitting(db, { piece_id, day: '2026-11-10', minutes: 60, note: 'The fret is a pick out.' })
    const { text } = await get('/')
    expect(text).toContain('>Second trial</a>')
    expect(text).toContain('Ilse, after Band of Oss')
    expect(text).toContain('2.5 h so far, in 2 sittings, breaks taken off.')
    expect(text).toContain('Last on 2026-11-10: weave, 1.0 h.')
    expect(text).toContain('The fret is a pick out.')
    expect(text).toContain(`href="/pieces/${piece_id}/sittings/new"`)
    expect(text).toContain(`href="/pieces/${piece_id}/compare"`)
    expect(text).not.toContain('>Long finished</a>')
    expect(text).toContain(`href="/drafts/${draft_id}"`)
    expect(text).toContain('Woven face of Fret')
  })

  test('draws the draft that was woven from last before a newer one', async () => {
    const { db, get } = startApp()
    const woven = makeDraft(db, { title: 'Woven' })
    const piece_id = makePiece(db, { draft_revision_id: makeRevision(db, { draft_id: woven }) })
    makeRevision(db, { draft_id: makeDraft(db, { title: 'Newer' }), created_at: '2026-11-24T13:00:00.000Z' })
    expect((await get('/')).text).toContain('Woven face of Newer')
    makeSitting(db, { piece_id })
    expect((await get('/')).text).toContain('Woven face of Woven')
  })

  test('leads to the pieces of one original together, those with something measured', async () => {
    const { db, get } = startApp()
    const original_id = makeOriginal(db, { name: 'Band of Oss' })
    const [first, second, blank] = ['A', 'B', 'C'].map((name) => makePiece(db, { name, original_id })) as number[]
    for (const piece_id of [first, second]) makeClaim(db, { piece_id: piece_id! })
    makeClaim(db, { piece_id: blank!, kind: 'blank', value: null, blank: 'notAnalysed' })
    const text = (await get('/')).text.replaceAll('&#x3D;', '=').replaceAll('&amp;', '&')
    expect(text).toContain(`<a href="/compare?piece=${first}&piece=${second}">Both side by side</a>`)
    expect(text).not.toContain(`href="/pieces/${blank}/compare"`)
  })

  test('says what comes next while a part of the main job is not begun', async () => {
    const { db, get } = startApp()
    makeOriginal(db)
    const begun = (await get('/')).text
    expect(begun).toContain('What comes next')
    expect(begun).toContain('Enter its draft')
    expect(begun).not.toContain('<h3>Record an original</h3>')
    makeRevision(db, { draft_id: makeDraft(db) })
    makePiece(db)
    expect((await get('/')).text).not.toContain('What comes next')
  })

  test('of a notebook with nothing but a source shows no empty sections', async () => {
    const { db, get } = startApp()
    makeSource(db)
    const { text } = await get('/')
    expect(text).toContain('What comes next')
    expect(text).not.toContain('home-originals')
    expect(text).not.toContain('<figure')
    expect(text).not.toContain('demo collection')
  })
})

describe('POST /demo', () => {
  test('brings the collection, and POST /demo/remove takes it out again without a trace', async () => {
    const { db, get, post } = startApp()
    const before = dump(db)
    const loaded = await post('/demo')
    expect(loaded.headers.location).toBe('/?done=demo-loaded')
    expect((await get('/?done=demo-loaded')).text).toContain('The demo collection is in your notebook.')
    expect((await get('/')).text).toContain('href="/demo/remove"')
    expect((await post('/demo/remove')).headers.location).toBe('/?done=demo-removed')
    expect(dump(db)).toEqual(before)
    expect((await get('/?done=demo-removed')).text).toContain('The demo collection is gone.')
  })

  test('a second time is refused and doubles nothing', async () => {
    const { db, post } = startApp()
    await post('/demo')
    const before = dump(db)
    const answer = await post('/demo')
    expect(answer.status).toBe(409)
    expect(answer.text).toContain('The demo collection is in this notebook already.')
    expect(dump(db)).toEqual(before)
  })
})

describe('GET /demo/remove', () => {
  test('says that all goes while no own work rests on it, and takes nothing out', async () => {
    const { db, get, post } = startApp()
    await post('/demo')
    const before = dump(db)
    const { status, text } = await get('/demo/remove')
    expect(status).toBe(200)
    expect(text).toMatch(/goes, with all that is noted of it: 5 originals, 5 drafts, 8 pieces, \d+ sources\./)
    expect(text).toContain('as if it had never been there')
    expect(text).toContain('<form method="post" action="/demo/remove">')
    expect(dump(db)).toEqual(before)
  })

  test('names what stays, and what of the maker rests on it, each with its link', async () => {
    const { db, get, post } = startApp()
    await post('/demo')
    const draft = db.raw.prepare('select id, title, original_id as original from draft limit 1').get() as {
      id: number
      title: string
      original: number
    }
    const [original] = db.raw.prepare('select name from original where id = ?').pluck().all(draft.original)
    const revision = Number(db.raw.prepare('select id from draft_revision where draft_id = ?').pluck().get(draft.id))
    const mine = makePiece(db, { name: 'Mine & more', draft_revision_id: revision })
    const text = (await get('/demo/remove')).text.replace(/\s+/g, ' ')
    const piece = `the piece <a href="/pieces/${mine}">Mine &amp; more</a> is woven from it`
    expect(text).toContain(`<a href="/drafts/${draft.id}">${draft.title}</a>, because ${piece}`)
    const drafted = `the draft <a href="/drafts/${draft.id}">${draft.title}</a> is a draft of it`
    expect(text).toContain(`<a href="/originals/${draft.original}">${String(original)}</a>, because ${drafted}`)
    expect(text).toContain('4 originals, 4 drafts, 8 pieces,')
  })

  test('without the collection is not there', async () => {
    expect((await startApp().get('/demo/remove')).status).toBe(404)
  })
})

describe('POST /demo/remove', () => {
  test('says that what own work uses has stayed', async () => {
    const { db, get, post } = startApp()
    await post('/demo')
    makePiece(db, { name: 'Mine', original_id: Number(db.raw.prepare('select min(id) from original').pluck().get()) })
    const answer = await post('/demo/remove')
    expect(answer.headers.location).toBe('/?done=demo-kept')
    const { text } = await get('/?done=demo-kept')
    expect(text).toContain('but for what your own work uses: that is yours now.')
    expect(text).not.toContain('/demo/remove')
  })

  test('in a notebook without it is harmless', async () => {
    const { db, post } = startApp()
    makeOriginal(db)
    const before = dump(db)
    expect((await post('/demo/remove')).status).toBe(303)
    expect(dump(db)).toEqual(before)
  })
})

describe('GET /colophon', () => {
  test('gathers every caution with whom to ask, the fonts, and the demo offer', async () => {
    const { text } = await startApp().get('/colophon')
    for (const caution of Object.values(CAUTIONS)) {
      expect(text).toContain(caution.text)
      expect(text).toContain(caution.ask)
    }
    expect(text).toContain('SIL Open Font License 1.1')
    expect(text).toContain('Load the demo collection')
    expect(text).toContain('This notebook lives in memory only')
  })

  test('says where the data lies', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'fellmark-colophon-'))
    const db = migratedDb(`${folder}/fellmark.db`)
    expect((await startApp(db).get('/colophon')).text).toContain(`<code>${folder}/fellmark.db</code>`)
    db.close()
    rmSync(folder, { recursive: true })
  })

  test.each([
    ['backstrap', (piece: number) => `/pieces/${piece}/sittings/new`],
    ['load', (piece: number) => `/pieces/${piece}/edit`],
  ] as const)('has the %s caution in the words in which it stands where it matters', async (key, path) => {
    const { db, get } = startApp()
    const { text, status } = await get(path(makePiece(db)))
    expect(status).toBe(200)
    expect(text).toContain(CAUTIONS[key].text)
  })
})
