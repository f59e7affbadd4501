import { describe, expect, test } from 'vitest'
import { gather } from '../../server/archive/gather.ts'
import { insertDraft, OWN_FRAME } from '../../server/draft/queries.ts'
import { listForecasts } from '../../server/forecast/queries.ts'
import { findQuote, listSent } from '../../server/quote/queries.ts'
import { asViewer, type Viewer } from '../../server/rights/viewer.ts'
import { toJson } from '../../server/archive/notebook.ts'
import { quoteSheet } from '../../shared/price/quote-sheet.ts'
import { enteredOf, LADDER } from '../plan/facts.ts'
import { makePiece, makeSitting } from '../support/make-piece.ts'
import { makePeople } from '../support/people.ts'
import { makeDataDir, migratedDb, startApp, type Started } from '../support/start.ts'
import { makeLot, move } from '../yarn-store/make-yarn.ts'

const AT = '2026-11-24T12:00:00.000Z'
const WORK = {
  ...{ title: 'Ferry band', client: 'The ferry house', maker: 'Runa', currency: 'EUR', rate: '25' },
  ...{ 'hours-weave': '10', 'hours-low': '8', 'hours-high': '15', binding: 'estimate' },
}

function makeWoven(db: Started['db'], more: Parameters<typeof makePiece>[1] = {}): number {
  const draft = { draft: LADDER, notes: '', originalId: undefined, convention: OWN_FRAME }
  return makePiece(db, { draftRevisionId: insertDraft(db, draft, AT).revisionId, ...more })
}

const idIn = (location: string | undefined) => Number(/\/quotes\/(\d+)/.exec(location ?? '')?.[1])
async function begin({ post }: Started, fields: Record<string, string> = {}): Promise<number> {
  return idIn((await post('/quotes', fields)).headers.location)
}
const versionOf = ({ db }: Started, id: number) => String(findQuote(db, id)?.version)
const keep = (started: Started, id: number, typed: Record<string, string>) =>
  started.post(`/quotes/${id}`, { ...WORK, version: versionOf(started, id), ...typed })

describe('POST /quotes', () => {
  test('begins with the terms of the maker, the hours of a forecast that is kept, and the yarns of the plan at their price', async () => {
    const started = startApp()
    const { db, post, get } = started
    const piece = makeWoven(db, { name: 'Belt', forWhom: 'The ferry house' })
    const lot = makeLot(db)
    const plan = {
      wovenBy: 'repeats',
      repeats: '12',
      picksPerCm: '10',
      widthMm: '20',
      'warp-m': `lot-${lot}`,
      'warp-w-count': '50 tex',
    }
    expect((await post(`/pieces/${piece}/plan`, { ...enteredOf(plan) })).status).toBe(303)
    const terms = { maker: 'Runa', currency: 'EUR', rate: '27.50', changes: 'In writing.', opened: '0' }
    expect((await post('/quotes/terms', terms)).status).toBe(303)
    expect((await get(`/quotes/new?piece=${piece}`)).text).toContain('The forecast gives')
    const quote = findQuote(db, await begin(started, { piece: String(piece) }))
    expect(quote?.entered).toMatchObject({
      ...{ maker: 'Runa', rate: '27.50', changes: 'In writing.' },
      client: 'The ferry house',
    })
    expect(quote?.entered).toMatchObject({
      'price-1': '12.50',
      'unit-1': '100g',
      'material-2': '50 tex',
      'price-2': '',
    })
    expect(Number(quote?.entered['grams-1'])).toBeGreaterThan(0)
    const { figures } = quoteSheet({ ...quote?.entered, 'price-2': '0' })
    expect(
      figures.cases.low.hours < figures.cases.likely.hours && figures.cases.likely.hours < figures.cases.high.hours,
    ).toBe(true)
    expect(listForecasts(db)).toMatchObject([{ keptBy: 'quote', kind: 'whole', pieceId: piece }])
  })

  test('of a draft asks how many repeats are woven, and says what is wrong with them', async () => {
    const { db, get, post } = startApp()
    const { revisionId } = insertDraft(
      db,
      { draft: LADDER, notes: '', originalId: undefined, convention: OWN_FRAME },
      AT,
    )
    expect((await get(`/quotes/new?revision=${revisionId}`)).text).toContain('Repeats of the whole band')
    const refused = await post('/quotes', { revision: String(revisionId), repeats: 'many' })
    expect(refused.status).toBe(422)
    expect(refused.text).toContain('value="many"')
    expect((await post('/quotes', { revision: String(revisionId), repeats: '20' })).status).toBe(303)
    expect((await post('/quotes', { piece: '999' })).status).toBe(404)
  })
})

describe('POST /quotes/:id', () => {
  test('keeps every field, and shows the sums with their working', async () => {
    const started = startApp()
    const id = await begin(started)
    expect((await keep(started, id, { 'private-note': 'ask about yarn' })).status).toBe(303)
    const { text } = await started.get(`/quotes/${id}`)
    expect(text).toContain('10 h × 25.00\u00a0EUR an hour &#x3D; 250.00\u00a0EUR')
    expect(text).toContain('ask about yarn')
    // 250 over 8 and 15 hours.
    expect(text).toContain('31.25\u00a0EUR if the work goes quickly, and 16.67\u00a0EUR if it is slow')
  })

  test('shows the form again with every word that was typed', async () => {
    const started = startApp()
    const id = await begin(started)
    const { status, text } = await keep(started, id, {
      rate: 'a lot',
      title: 'Ferry <band>',
      changes: 'x'.repeat(5001),
    })
    expect(status).toBe(422)
    expect(text).toContain('value="a lot"')
    expect(text).toContain('Ferry &lt;band&gt;')
    expect(text).toContain('Please keep this under 5000 characters.')
    expect(findQuote(started.db, id)?.entered.title).toBe('')
  })

  test('that was opened on an older version comes back with both texts', async () => {
    const started = startApp()
    const id = await begin(started)
    const opened = versionOf(started, id)
    await keep(started, id, { title: 'First', 'set-price': '300' })
    const { status, text } = await started.post(`/quotes/${id}`, { ...WORK, title: 'Second', version: opened })
    expect(status).toBe(409)
    expect(text).toContain('First')
    expect(text).toContain('Second')
    expect(findQuote(started.db, id)?.entered).toMatchObject({ title: 'First', 'set-price': '300' })
  })

  test('POST /quotes/:id/work works out what is typed, by a button, and keeps nothing', async () => {
    const started = startApp()
    const id = await begin(started)
    const { status, text } = await started.post(`/quotes/${id}/work`, {
      ...WORK,
      'hours-weave': '7.35',
      rate: '28.50',
      'hours-low': '7',
    })
    expect(status).toBe(200)
    expect(text).toContain('209.48\u00a0EUR')
    expect(findQuote(started.db, id)?.entered['hours-weave']).toBe('')
  })
})

describe('a quote that is sent', () => {
  test('needs a client, a maker, a title and hours', async () => {
    const started = startApp()
    const id = await begin(started)
    const { status, text } = await keep(started, id, {
      client: ' ',
      'hours-weave': '',
      'hours-low': '',
      'hours-high': '',
      then: 'send',
    })
    expect(status).toBe(422)
    expect(text).toContain('Who is it for?')
    expect(text).toContain('No price without its hours')
    expect(findQuote(started.db, id)?.state).toBe('draft')
  })

  test('is frozen: what is changed later becomes another version, and no statement changes or deletes the first', async () => {
    const started = startApp()
    const { db, get, post } = started
    const id = await begin(started)
    expect((await keep(started, id, { then: 'send' })).status).toBe(303)
    const first = (await get(`/quotes/${id}/versions/1`)).text
    expect(first).toContain('Estimate 2026-001, version 1')
    expect(first).toContain('This is an estimate, not a fixed price.')
    expect((await keep(started, id, { title: 'Another title', 'set-price': '999', then: 'send' })).status).toBe(303)
    const unmarked = (text: string) => text.replace(/value="[\w-]{16}"/g, '')
    expect(unmarked((await get(`/quotes/${id}/versions/1`)).text)).toBe(unmarked(first))
    expect((await get(`/quotes/${id}/versions/2`)).text).toContain('Another title')
    expect((await get(`/quotes/${id}/versions/3`)).status).toBe(404)
    expect((await get(`/quotes/${id}/versions/x`)).status).toBe(404)
    for (const statement of [
      "update quote_version set paper = '{}'",
      'delete from quote_version',
      'update quote set number_serial = 7',
      "update quote set deleted_at = '2026-11-24'",
      'delete from quote',
    ])
      expect(() => db.raw.exec(statement), statement).toThrow(/never|only be withdrawn/)
    expect((await post(`/quotes/${id}/delete`)).status).toBe(409)
    expect(listSent(db, id).map(({ number }) => number)).toEqual([2, 1])
  })

  test('has a number of its own maker and year, also when many are sent at once', async () => {
    const started = startApp()
    const ids: number[] = []
    for (let at = 0; at < 12; at += 1) ids.push(await begin(started))
    const bodies = ids.map((id) => ({ ...WORK, title: `Band ${id}`, version: versionOf(started, id), then: 'send' }))
    const answers = await Promise.all(ids.map((id, at) => started.post(`/quotes/${id}`, bodies[at])))
    expect(answers.map(({ status }) => status)).toEqual(Array(12).fill(303))
    const numbers = ids.map((id) => findQuote(started.db, id)?.number)
    expect(numbers.toSorted()).toEqual(Array.from({ length: 12 }, (_, at) => `2026-${String(at + 1).padStart(3, '0')}`))
  })

  test('is accepted, declined, lapsed or withdrawn on a day, and is not changed then; the answer can be taken back', async () => {
    const started = startApp()
    const { post, get } = started
    const id = await begin(started)
    expect((await post(`/quotes/${id}/answer`, { answer: 'accepted', day: '' })).status).toBe(409)
    await keep(started, id, { then: 'send' })
    expect((await post(`/quotes/${id}/answer`, { answer: 'accepted', day: '2030-01-01' })).status).toBe(422)
    expect((await post(`/quotes/${id}/answer`, { answer: 'eaten', day: '' })).status).toBe(422)
    for (const answer of ['declined', 'lapsed', 'withdrawn', 'accepted']) {
      expect((await post(`/quotes/${id}/answer`, { answer, day: '2026-11-20' })).status).toBe(303)
      expect((await get(`/quotes/${id}`)).text).toContain(`${answer} on 20 November 2026`)
    }
    expect((await keep(started, id, { title: 'Cheaper' })).status).toBe(409)
    expect(findQuote(started.db, id)?.entered.title).toBe('Ferry band')
    await post(`/quotes/${id}/answer`, { answer: 'sent', day: '' })
    expect(findQuote(started.db, id)).toMatchObject({ state: 'sent', answeredOn: undefined })
    const copy = idIn((await post(`/quotes/${id}/copy`)).headers.location)
    expect(findQuote(started.db, copy)).toMatchObject({ state: 'draft', number: '' })
  })
})

test('POST /quotes/:id/delete throws a quote that was not sent into the bin, and the bin gives it back', async () => {
  const started = startApp()
  const id = await begin(started)
  await keep(started, id, {})
  const { headers } = await started.post(`/quotes/${id}/delete`)
  expect(headers.location).toContain(`undo=quote-${id}`)
  expect((await started.get(`/quotes/${id}`)).status).toBe(404)
  expect((await started.get('/bin')).text).toContain('Quote: Ferry band')
  expect((await started.post(`/bin/quote/${id}/restore`)).status).toBe(303)
  expect((await started.get(`/quotes/${id}`)).status).toBe(200)
})

test('GET /quotes/results holds quoted hours and materials against those of the piece, by client and by kind of work', async () => {
  const started = startApp()
  const { db, post, get } = started
  const piece = makeWoven(db, { name: 'Belt', onLoomOn: '2026-10-01', wovenOn: '2026-11-01', finishedOn: '2026-11-02' })
  makeSitting(db, piece, { minutes: 600, repeats: 10 })
  makeSitting(db, piece, { stage: 'unweave', minutes: 60 })
  makeSitting(db, piece, { stage: 'finish', minutes: 60 })
  const lot = makeLot(db)
  move(db, lot, 'bought', 200_000)
  move(db, lot, 'used', 80_000, piece)
  const id = await begin(started)
  const materials = { 'material-1': 'Fen wool', 'grams-1': '100', 'price-1': '12.50', 'unit-1': '100g', waste: '0' }
  await keep(started, id, {
    ...materials,
    'work-kind': 'gift',
    'set-price': '322',
    'overhead-by': 'hour',
    overhead: '1',
    then: 'send',
  })
  await post(`/quotes/${id}/answer`, { answer: 'accepted', day: '' })
  expect((await get('/quotes/results')).text).not.toContain('The ferry house')
  await post(`/quotes/${id}/piece`, { piece: String(piece) })
  const { text } = await get(`/quotes/${id}`)
  // 322 − 80 g at 12.50 − 12 h at 1, over 12 hours; quoted was (322 − 12.50 − 10) over 10.
  expect(text).toContain('An hour was really paid 25.00\u00a0EUR.')
  expect(text).toContain('quoted was 29.95\u00a0EUR an hour')
  const results = (await get('/quotes/results')).text
  for (const said of ['The ferry house', 'gift', '1.20', '25.00\u00a0EUR an hour']) expect(results).toContain(said)
})

describe('a quote, its terms and its forecast are their owner’s alone', () => {
  const db = migratedDb()
  const people = makePeople(db)
  const dataDir = makeDataDir()
  const owner = startApp(db, dataDir, people.owner)
  const SECRET = 'quillwort'
  const piece = asViewer(people.owner, () => makeWoven(db, { name: 'Shown band', onLoomOn: '2026-10-01' }))
  db.run(db.sql.updateTable('piece').set({ visibility: 'published' }).where('id', '=', piece))
  db.run(db.sql.updateTable('draft').set({ visibility: 'published' }))
  db.run(db.sql.insertInto('co_maker').values({ piece_id: piece, member_id: people.coMaker.id }))
  const begun = (async () => {
    await owner.post('/quotes/terms', { maker: SECRET, rate: '1357.91', currency: 'EUR', opened: '0' })
    const id = idIn((await owner.post('/quotes', { piece: String(piece) })).headers.location)
    const version = String(asViewer(people.owner, () => findQuote(db, id)?.version))
    const typed = { ...WORK, client: SECRET, 'set-price': '1357.91', then: 'send', version }
    expect((await owner.post(`/quotes/${id}`, typed)).status).toBe(303)
    await owner.post('/forecasts', { piece: String(piece), repeats: '7' })
    return id
  })()
  const EVERYBODY: [string, Viewer][] = [
    ['a co-maker', people.coMaker],
    ['another member', people.other],
    ['a guest', people.guest],
    ['the keeper', people.keeper],
    ['somebody who has not signed in', people.anonymous],
  ]
  const SECRETS = [SECRET, '1357', '1,357', '1\u00a0357', '135791']

  test.each(EVERYBODY)(
    '%s finds nothing of it on any page, in the search and in any archive',
    async (_who, viewer) => {
      const id = await begun
      const { get, broken } = startApp(db, dataDir, viewer)
      const lists = [
        '/',
        '/pieces',
        '/drafts',
        '/yarns',
        '/yarns/lots.csv',
        '/compare',
        '/export',
        '/bin',
        '/search?q=quill',
      ]
      const quoting = [
        '/quotes',
        '/quotes/new',
        '/quotes/terms',
        '/quotes/results',
        '/forecasts',
        `/quotes/new?piece=${piece}`,
      ]
      const ofPiece = ['', '/forecast', '/plan', '/history', '/compare', '/settle', '/edit'].map(
        (page) => `/pieces/${piece}${page}`,
      )
      const ofQuote = [`/quotes/${id}`, `/quotes/${id}/paper`, `/quotes/${id}/versions/1`]
      for (const path of [...lists, ...quoting, ...ofPiece, ...ofQuote]) {
        const answer = await get(path)
        const text = path.startsWith('/search')
          ? (answer.text ?? '').replace(/quill(?!wort)/g, '')
          : (answer.text ?? '')
        for (const secret of SECRETS) expect(text, `${path}: ${secret}`).not.toContain(secret)
      }
      for (const path of ofQuote) expect([303, 404]).toContain((await get(path)).status)
      for (const scope of [{ kind: 'notebook' }, { kind: 'own' }, { kind: 'piece', id: piece }] as const) {
        const words = JSON.stringify(toJson(asViewer(viewer, () => gather(db, scope)).notebook))
        for (const secret of SECRETS) expect(words).not.toContain(secret)
      }
      expect(broken).toEqual([])
    },
    120_000,
  )

  test('the owner finds it, and takes it along; the keeper’s archive of the owner is without it', async () => {
    const id = await begun
    expect((await owner.get(`/quotes/${id}`)).text).toContain(SECRET)
    expect((await owner.get('/forecasts')).text).toContain('Shown band')
    const own = (withoutQuotes: boolean) =>
      JSON.stringify(toJson(asViewer(people.owner, () => gather(db, { kind: 'own', withoutQuotes })).notebook))
    expect(own(false)).toContain(SECRET)
    expect(own(true)).not.toContain(SECRET)
  })

  test('a number is each maker’s own: another member begins at 1', async () => {
    await begun
    const other = startApp(db, dataDir, people.other)
    const id = idIn((await other.post('/quotes')).headers.location)
    await other.post(`/quotes/${id}`, { ...WORK, version: '1', then: 'send' })
    expect(asViewer(people.other, () => findQuote(db, id)?.number)).toBe('2026-001')
  })
})

describe('POST /quotes/terms', () => {
  test('keeps what every quote begins with, refuses what cannot be read, and never overwrites another window’s in silence', async () => {
    const { get, post } = startApp()
    expect((await post('/quotes/terms', { rate: 'much', opened: '0' })).status).toBe(422)
    expect((await post('/quotes/terms', { rate: '30', currency: 'EUR', opened: '0' })).status).toBe(303)
    const stale = await post('/quotes/terms', { rate: '40', currency: 'EUR', opened: '0' })
    expect(stale.status).toBe(409)
    expect(stale.text).toContain('value="40"')
    expect((await get('/quotes/terms')).text).toContain('value="30"')
  })
})
