import request from 'supertest'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { keepReferences } from '../../server/citation/keep.ts'
import { keepPrinted, listDue, setNotebookStyle } from '../../server/citation/queries.ts'
import { createApp } from '../../server/app.ts'
import type { Viewer } from '../../server/rights/viewer.ts'
import { makeClaim, makeOriginal, makeSource } from '../support/make.ts'
import { makePeople } from '../support/people.ts'
import { makeDataDir, migratedDb, NOW, pagesBelow, startApp, ZONE } from '../support/start.ts'

const BOOK = { title: 'Bands of the Fen', people: 'Oss, Rolf', year: '1987', kind: 'book', publisher: 'Fen Press' }

/** The program with its references kept, as it runs. */
function startCiting() {
  const db = migratedDb()
  const broken: unknown[] = []
  const references = keepReferences(db, (error) => broken.push(error))
  const app = createApp({
    ...{ db, references, dataDir: makeDataDir(), isLoopback: true, page: pagesBelow(''), now: () => NOW, zone: ZONE },
    onBroken: (error) => void broken.push(error),
  })
  const get = (path: string, cookie = '') => request(app).get(path).set('Host', 'localhost:4180').set('Cookie', cookie)
  const post = (path: string, fields: Record<string, string>) =>
    request(app).post(path).set({ Host: 'localhost:4180', Origin: 'http://localhost:4180' }).type('form').send(fields)
  return { db, broken, references, get, post }
}

describe('a source that is saved', () => {
  const started = startCiting()
  const { db, get, post, references } = started
  beforeAll(async () => {
    await post('/sources', BOOK)
    await references.bringUpToDate(60_000)
  }, 90_000)
  afterAll(() => expect(started.broken).toEqual([]))

  test('has its reference in every style; the page shows that of the notebook, or of the browser', async () => {
    const page = (await get('/sources/1')).text
    expect(page).toContain('<span class="small-caps">Oss</span>, R. 1987. <i>Bands of the Fen</i>. Fen Press.')
    expect(page).toContain('(Oss 1987)')
    expect((await get('/sources/1', 'fellmark-citation=apa')).text).toContain('Oss, R. (1987). <i>Bands of the Fen</i>')
    expect((await get('/sources/1', 'fellmark-citation=evil')).text).toContain('(Oss 1987)')
    setNotebookStyle(db, 'chicago')
    expect((await get('/sources/1')).text).toContain('Oss, Rolf. <i>Bands of the Fen</i>. Fen Press, 1987.')
    setNotebookStyle(db, 'antiquity')
  })

  test('changed, is printed anew; a claim cites the place; another engine prints all anew', async () => {
    await post('/sources/1', { ...BOOK, year: '1988' })
    const original = makeOriginal(db)
    const claim = makeClaim(db, { originalId: original }, { sourceId: 1, locator: 'pl. XII' })
    makeClaim(db, { originalId: original }, { sourceId: 1, locator: 'fig. 3', feature: 'length' })
    await references.bringUpToDate(60_000)
    expect((await get('/sources/1')).text).toContain('(Oss 1988: pl. XII)')
    expect((await get(`/claims/${claim.id}`)).text).toContain('(Oss 1988: pl. XII)')
    expect((await get(`/claims/${claim.id}`, 'fellmark-citation=chicago')).text).toContain('pl. XII.')
    expect(listDue(db)).toEqual([])
    db.raw.exec(`update source_reference set engine = 'citeproc 1, styles x, items 0' where style = 'apa'`)
    expect(listDue(db).map(({ style, sourceId }) => [style, sourceId])).toEqual([['apa', 1]])
    expect((await get('/sources/1', 'fellmark-citation=apa')).text).toContain('Oss, Rolf (1988). Bands of the Fen')
    await references.bringUpToDate(60_000)
    expect((await get('/sources/1', 'fellmark-citation=apa')).text).toContain('Oss, R. (1988).')
  })

  test('that goes while it is printed takes no reference any more', () => {
    const gone = makeSource(db)
    const due = listDue(db)
    db.raw.prepare('delete from source where id = ?').run(gone)
    keepPrinted(
      db,
      due,
      due.map(() => ({ entry: 'x', citation: 'x', located: [] })),
    )
    expect(db.raw.prepare('select count(*) from source_reference where source_id = ?').pluck().get(gone)).toBe(0)
  })
})

describe('GET /bibliography', () => {
  test('of a selection, of an original, of nothing; in a style that the address names', async () => {
    const { db, get } = startApp()
    const [first, second] = [makeSource(db, { title: 'Zed' }), makeSource(db, { title: 'Alpha', people: 'Abel, A.' })]
    const original = makeOriginal(db)
    makeClaim(db, { originalId: original }, { sourceId: second })
    const all = (await get('/bibliography?style=vancouver')).text
    expect(all).toContain('2 sources')
    expect(all).toContain('<span class="reference-number">2.</span>')
    const one = (await get(`/bibliography?source=${first}&source=999`)).text
    expect(one).toContain('1 source')
    expect(one).not.toContain('Alpha')
    expect(one).toContain(`/sources/export?format&#x3D;ris&amp;source&#x3D;${first}`)
    const of = (await get(`/bibliography?original=${original}`)).text
    expect(of).toContain('Alpha')
    expect(of).not.toContain('Zed')
    expect((await get('/bibliography?original=77')).status).toBe(404)
    expect((await get('/bibliography?source=nonsense')).text).toContain('No source here yet')
  }, 60_000)
})

describe('POST /citation-style', () => {
  test('remembers the style in the browser, or for the notebook; no other style', async () => {
    const { db, post } = startApp()
    const chosen = await post('/citation-style', { style: 'apa', for: 'browser' })
    expect(chosen.headers['set-cookie']?.[0]).toMatch(/^fellmark-citation=apa; .*HttpOnly; SameSite=Lax/)
    expect((await post('/citation-style', { style: 'vancouver', for: 'notebook' })).status).toBe(303)
    expect(db.raw.prepare('select style from citation_style').pluck().all()).toEqual(['vancouver'])
    expect((await post('/citation-style', { style: '../x', for: 'notebook' })).status).toBe(422)
  })
})

describe('rights', () => {
  const SECRET = 'quillwort'
  const db = migratedDb()
  const people = makePeople(db)
  const hidden = makeSource(db, {
    title: `${SECRET} papers`,
    people: `${SECRET}, R.`,
    notes: SECRET,
    doi: '10.1000/182',
  })
  const shown = makeSource(db, { title: 'Open papers' })
  db.raw.prepare('update source set owner_id = ?').run(people.owner.id)
  db.raw.prepare("update source set visibility = 'members' where id = ?").run(shown)
  const as = (viewer: Viewer) => startApp(db, makeDataDir(), viewer)

  test.each([
    ...['/bibliography', `/bibliography?source=${hidden}&source=${shown}`, '/claims/unsupported', '/sources/import'],
    ...['bibtex', 'ris', 'csl'].map((format) => `/sources/export?format=${format}&source=${hidden}&source=${shown}`),
  ])(
    '%s tells another member nothing of a source that is private',
    async (path) => {
      const answer = await as(people.other).get(path).buffer(true)
      expect(answer.status).toBe(200)
      expect(answer.text ?? String(answer.body)).not.toContain(SECRET)
    },
    60_000,
  )

  test('an import does not know a private source of somebody else again', async () => {
    const { post } = as(people.other)
    const document = '@book{x, title = {Another}, doi = {10.1000/182}}'
    expect((await post('/sources/import', { document })).text).toContain('1 new, 0 here already')
    expect((await as(people.owner).post('/sources/import', { document })).text).toContain('by its DOI')
  }, 60_000)

  test('the style of the notebook is the keeper’s to choose', async () => {
    const fields = { style: 'apa', for: 'notebook' }
    expect((await as(people.owner).post('/citation-style', fields)).status).toBe(403)
    expect((await as(people.keeper).post('/citation-style', fields)).status).toBe(303)
  })
})

describe('GET /claims/unsupported', () => {
  test('lists standing claims without a source, per original and over all, and says what is missing', async () => {
    const { db, get } = startApp()
    const [first, second] = [makeOriginal(db, { name: 'Fen band' }), makeOriginal(db, { name: 'Moor band' })]
    const about = { originalId: first }
    makeClaim(db, about, { sourceId: makeSource(db), value: '11.1' })
    makeClaim(db, about, { value: '12.2', basis: 'read' })
    makeClaim(db, about, { value: '13.3', basis: 'seen', claimedBy: 'Ada Visser' })
    makeClaim(db, about, { kind: 'blank', blank: 'notPublished', unit: '' })
    makeClaim(db, { originalId: second }, { value: '14.4', basis: 'inferred' })
    const binned = makeSource(db, { title: 'Thrown away' })
    makeClaim(db, { originalId: second }, { value: '15.5', sourceId: binned })
    db.raw.prepare(`update source set deleted_at = '2026-11-24T12:00:00Z' where id = ?`).run(binned)
    const all = (await get('/claims/unsupported')).text
    expect(all).toContain('3 claims')
    for (const text of ['12.2 mm', '14.4 mm', '15.5 mm', 'read in a publication that is not named', 'lies in the bin'])
      expect(all).toContain(text)
    for (const text of ['11.1 mm', '13.3 mm', 'Thrown away']) expect(all).not.toContain(text)
    const one = (await get(`/claims/unsupported?original=${first}`)).text
    expect(one).toContain('1 claim about it')
    expect(one).not.toContain('14.4')
    expect((await get('/claims/unsupported?original=9')).status).toBe(404)
  })
})
