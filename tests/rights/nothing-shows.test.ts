import { describe, expect, test } from 'vitest'
import { gather } from '../../server/archive/gather.ts'
import type { Db } from '../../server/db/open.ts'
import { ROUTES } from '../../server/rights/routes-table.ts'
import { ANONYMOUS, asViewer, type Viewer } from '../../server/rights/viewer.ts'
import { makePeople } from '../support/people.ts'
import {
  makeClaim,
  makeDecision,
  makeJudgement,
  makeWeighting,
  makeDraft,
  makeOriginal,
  makePiece,
  makeQuote,
  makeRevision,
  makeShelfLot,
  makeShelfMovement,
  makeShelfYarn,
  makeSitting,
  makeSource,
  makeYarn,
} from '../support/rows.ts'
import { makeDataDir, migratedDb, NOW, startApp } from '../support/start.ts'
import { makePhoto } from './things.ts'

const SECRET = 'quillwort'
const BINNED = 'bogmyrtle'

/** Text that is the key of a closed list, a number as typed, a time, or a name that the program gave. */
const CLOSED = new Set([
  ...['uid', 'visibility', 'kind', 'date_edtf', 'feature', 'blank', 'unit', 'state', 'basis', 'stage', 'zone', 'day'],
  ...['value', 'low', 'high', 'readings', 'u', 'resolution', 'count', 'count_system', 'colour_key', 'licence', 'file'],
  ...['sha256', 'document', 'doi', 'isbn', 'url', 'convention', 'origin', 'said_stage', 'steps_from', 'steps_to'],
  ...['aspect', 'place', 'relation', 'reason_kind', 'weights', 'on_day'],
])

/** Every column with anybody's words, by the table that it stands in. */
function wordColumns(db: Db, table: string): string[] {
  const columns = db.raw.pragma(`table_info(${table})`) as { name: string; type: string }[]
  return columns
    .filter(({ name, type }) => type === 'TEXT' && !CLOSED.has(name) && !/_(at|on)$/.test(name))
    .map(({ name }) => name)
}

const words = (db: Db, table: string, marker: string) =>
  Object.fromEntries(wordColumns(db, table).map((column) => [column, `${marker} ${table}-${column}`]))

interface Owned {
  readonly owner_id: number
  readonly visibility: 'private' | 'members' | 'published'
  readonly deleted_at?: string
}

const MEASURED = { wraps_per_cm: null, diameter_mm: null, count_reading: '' }
const COLOURED = { colour_hex: '#9c3b2e', colour_lab: '', price_minor: 1357, price_currency: 'EUR', price_for: 'kg' }

/** One thing of each kind with a marker in all of its words, and in those of all that belongs to it. */
function makeAll(db: Db, marker: string, owned: Owned) {
  const row = (table: string) => words(db, table, marker)
  const source = makeSource(db, { ...row('source'), ...owned })
  const original = makeOriginal(db, { ...row('original'), ...owned })
  const draft = makeDraft(db, { ...row('draft'), original_id: original, ...owned })
  const document = JSON.stringify({
    title: marker,
    colours: { m: { name: marker, hex: '#9c3b2e' } },
    weft: 'm',
    tablets: [{ threading: 'S', holes: ['m', 'm', 'm', 'm'], start: 'A', part: 'pattern' }],
    picks: ['1F'],
  })
  const revision = makeRevision(db, { draft_id: draft, document, ...row('draft_revision') })
  const days = { on_loom_on: '2026-02-01', planned_on: '2026-01-05' }
  const from = { original_id: original, draft_revision_id: revision }
  const piece = makePiece(db, { ...row('piece'), ...days, ...from, ...owned })
  const yarn = makeShelfYarn(db, { ...row('yarn'), ...MEASURED, blend: 'wool', build: '', count: '', ...owned })
  const lot = makeShelfLot(db, { ...row('lot'), yarn_id: yarn, ...COLOURED })
  makeShelfMovement(db, { ...row('movement'), lot_id: lot, piece_id: piece })
  makeYarn(db, { ...row('piece_yarn'), piece_id: piece, lot_id: lot })
  makeSitting(db, {
    ...row('sitting'),
    ...{ piece_id: piece, started_at: '2026-11-20T08:00:00Z', ended_at: '2026-11-20T09:30:00Z' },
  })
  for (const subject of [{ original_id: original }, { piece_id: piece }]) {
    makeClaim(db, { ...row('claim'), ...subject, source_id: source, value: '13.57', working: 1 })
    makeClaim(db, { ...row('claim'), ...subject, part: 'edge', kind: 'text', value: null, words: marker, unit: '' })
    makePhoto(db, { ...row('photo'), ...subject })
    makeDecision(db, { ...row('decision'), ...subject })
  }
  makeJudgement(db, { ...row('judgement'), piece_id: piece, relation: 'substituted' })
  makeWeighting(db, { ...row('weighting'), ...owned })
  const entered = JSON.stringify({ title: marker, client: marker, 'set-price': '13.57' })
  makeQuote(db, { owner_id: owned.owner_id, piece_id: piece, entered })
  return { source, original, draft, revision, piece, lot }
}

/** What Maren keeps to herself, what she threw away, what she shows, and what Hild made upon it. */
function makeNotebook() {
  const db = migratedDb()
  const people = makePeople(db)
  const owner_id = people.owner.id
  const secret = makeAll(db, SECRET, { owner_id, visibility: 'private' })
  const feature = (label: string) => ({ key: `own-${label}`, label, quantity: 'text', created_at: '', owner_id })
  for (const word of [SECRET, BINNED]) db.run(db.sql.insertInto('feature').values(feature(word)))
  makeClaim(db, {
    original_id: secret.original,
    feature: `own-${SECRET}`,
    kind: 'text',
    words: 'x',
    unit: '',
    value: null,
  })
  makeAll(db, BINNED, { owner_id, visibility: 'published', deleted_at: NOW.toISOString() })
  const upon = { original_id: secret.original, draft_revision_id: secret.revision }
  const piece = (row: object) => makePiece(db, { ...upon, on_loom_on: '2026-02-01', ...row })
  const shown = piece({ name: 'Shown', for_whom: SECRET, owner_id, visibility: 'published' })
  const hilds = piece({ name: 'Of Hild', owner_id: people.other.id })
  const draft = makeDraft(db, { title: 'Shown too', original_id: secret.original, owner_id, visibility: 'published' })
  makeRevision(db, { draft_id: draft })
  const original = makeOriginal(db, { name: 'Shown as well', owner_id, visibility: 'published' })
  for (const id of [shown, hilds]) makeYarn(db, { piece_id: id, lot_id: secret.lot })
  const shelf = makeShelfYarn(db, { name: 'Shown yarn', supplier: SECRET, owner_id, visibility: 'published' })
  const shelfLot = makeShelfLot(db, { yarn_id: shelf, supplier: SECRET, ...COLOURED })
  makeShelfMovement(db, { lot_id: shelfLot, piece_id: secret.piece, other_lot_id: secret.lot })
  const cited = { source_id: secret.source, locator: `${SECRET} p. 41`, working: 1 as const }
  const claims = [
    makeClaim(db, { piece_id: shown, ...cited }),
    makeClaim(db, { piece_id: hilds, ...cited }),
    makeClaim(db, { original_id: original, ...cited }),
  ]
  for (const id of [shown, hilds])
    makeSitting(db, {
      ...{ piece_id: id, maker: 'Runa', started_at: '2026-11-20T08:00:00Z', ended_at: '2026-11-20T09:30:00Z' },
    })
  return { db, people, secret, shown, hilds, draft, original, claims, shelf, shelfLot }
}

const notebook = makeNotebook()
const { db, people, secret, shown, hilds, draft, original, claims, shelf, shelfLot } = notebook

/** Pages without a thing of their own: lists, choices, counts. */
const PLAIN = ROUTES.filter(({ method, path }) => method === 'GET' && !path.includes(':')).map(({ path }) =>
  path === '/sources/export' ? `${path}?format=csl` : path,
)

const SEARCHES = [SECRET, BINNED, 'shown', 'p', 'width', `${SECRET} shown`].flatMap((q) => [
  `/search?q=${q}`,
  `/search?q=${q}&kind=piece`,
])

/** Pages of what may be seen, which points at what may not. */
const POINTING = [
  ...[`/pieces/${shown}`, `/pieces/${shown}/compare`, `/drafts/${draft}`, `/originals/${original}`],
  ...claims.map((id) => `/claims/${id}`),
  ...[`/yarns/${shelf}`, `/lots/${shelfLot}`, `/yarns/colour?lot=${shelfLot}`, `/drafts/${draft}/revisions/1/lots`],
  ...[shown, hilds].flatMap((id) => ['fidelity', 'pace', 'hours'].map((name) => `/pieces/${id}/${name}`)),
  ...[`/fidelity?piece=${shown}&piece=${hilds}`, '/sources/export?format=bibtex', '/sources/export?format=ris'],
  ...[`/pieces/${hilds}/settle`, `/yarns?fibre=wool`],
  ...[`/compare?piece=${shown}`, `/compare?piece=${shown}&piece=${hilds}`],
  ...[`/pieces/${hilds}`, `/pieces/${hilds}/edit`, `/pieces/${hilds}/compare`, `/pieces/${hilds}/history`],
  `/pieces/${hilds}/claims/new?feature=width`,
  ...[`/pieces/new?original=${secret.original}&revision=${secret.revision}`, `/drafts/new?original=${secret.original}`],
  ...[`/features/new?original=${secret.original}`, `/features/new?piece=${secret.piece}`],
  ...[`/pieces?original=${secret.original}`, '/originals?pieces=with', '/sources?kind=book', '/pieces?status=onLoom'],
  ...[`/compare?piece=${secret.piece}`, `/pieces?maker=nobody`],
]

const VIEWERS: readonly (readonly [string, Viewer])[] = [
  ['another member', people.other],
  ['a guest', people.guest],
  ['the keeper', people.keeper],
  ['somebody who has not signed in', ANONYMOUS],
]

/** A page without what the reader typed into its address, which a search repeats in places of its own. */
function withoutTyped(path: string, { status, text }: { status: number; text: string }): string {
  const q = path.startsWith('/search') ? new URLSearchParams(path.split('?')[1]).get('q') : null
  if (q === null) return text
  if (status === 303) return ''
  const alone = q.split(' ').map((word) => `<li>${word}: <span class="number">0</span></li>`)
  const typed = [`<title>Search: ${q} · Fellmark</title>`, `value="${q}"`, ...alone]
  return typed.reduce((rest, each) => rest.replaceAll(each, ''), text).replace(/href="\/search\?[^"]*"/g, '')
}

describe.each(VIEWERS)('%s', (_who, viewer) => {
  const { get, broken } = startApp(db, makeDataDir(), viewer)
  const paths = [...PLAIN.filter((path) => !path.startsWith('/keeper')), ...SEARCHES, ...POINTING]

  test.each(paths)('finds nothing of what others keep or threw away on %s', async (path) => {
    const answer = await get(path)
    // A picture comes as bytes.
    const text = withoutTyped(path, { status: answer.status, text: answer.text ?? String(answer.body) })
    for (const word of [SECRET, BINNED, '13.57']) expect(text).not.toContain(word)
    expect([200, 303, 403, 404]).toContain(answer.status)
    expect(broken).toEqual([])
  })
})

describe('the owner', () => {
  const { get } = startApp(db, makeDataDir(), people.owner)

  test.each(['/', '/pieces', '/originals', '/drafts', '/sources', '/compare', '/pieces/new'])(
    'finds their own on %s',
    async (path) => {
      expect((await get(path)).text).toContain(SECRET)
    },
  )

  test('finds a piece by for whom it is, and sees it', async () => {
    const hits = (await get(`/search?q=${SECRET}&kind=piece`)).text
    expect(hits).toContain(`href="/pieces/${shown}"`)
    expect((await get(`/pieces/${shown}`)).text).toContain(SECRET)
  })
})

test.each([
  ['another member, of the piece', people.other, { kind: 'piece', id: shown }],
  ['somebody who has not signed in, of the piece', ANONYMOUS, { kind: 'piece', id: shown }],
  ['another member, of their own', people.other, { kind: 'own' }],
  ['the keeper, of the notebook', people.keeper, { kind: 'notebook' }],
] as const)('an archive of %s holds nothing of it either', (_who, viewer, scope) => {
  const { notebook: archived } = asViewer(viewer, () => gather(db, scope))
  const text = JSON.stringify(archived)
  expect(archived.records.piece.length).toBeGreaterThan(0)
  for (const word of [SECRET, BINNED, '13.57']) expect(text).not.toContain(word)
})

test('what is not shared is said to be so', async () => {
  const { get } = startApp(db, makeDataDir(), people.other)
  const page = (await get(`/pieces/${shown}`)).text
  expect(page).toContain('an original that is not shared with you')
  expect(page).toContain('a draft that is not shared with you')
  expect(page).toContain('a source that is not shared with you')
  expect((await get(`/pieces/${shown}/compare`)).text).toContain('an original that is not shared with you')
  expect((await get('/pieces')).text).toContain('an original that is not shared with you')
  expect((await get(`/drafts/${draft}`)).text).toContain('an original that is not shared with you')
})

test('an overlap with a piece that is not shared is said without its name', async () => {
  const { post } = startApp(db, makeDataDir(), people.other)
  const typed = {
    day: '2026-11-20',
    start: '09:15',
    end: '10:00',
    stage: 'weave',
    zone: 'Europe/Berlin',
    lengthUnit: 'cm',
  }
  const { text, status } = await post(`/pieces/${hilds}/sittings`, { ...typed, maker: `${SECRET} sitting-maker` })
  expect(status).toBe(422)
  expect(text).toContain('a piece that is not shared with you')
  expect(text).not.toContain(`${SECRET} piece-name`)
})

const CLAIM = { feature: 'width', kind: 'value', unit: 'mm', value: '13', state: 'offTension', basis: 'seen' }

describe('what may not be seen', () => {
  const { post } = startApp(db, makeDataDir(), people.other)

  test.each([
    ['/pieces', { name: 'Mine', original: String(secret.original) }, 'This original is not in the notebook'],
    ['/pieces', { name: 'Mine', revision: String(secret.revision) }, 'This draft is not in the notebook'],
    [`/pieces/${hilds}/claims`, { ...CLAIM, source: String(secret.source) }, 'This source is not there'],
  ])('is not chosen by its number: %s %j', async (path, fields, sentence) => {
    const answer = await post(path, fields)
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(sentence)
  })
})
