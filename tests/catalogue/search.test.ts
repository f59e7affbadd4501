import { describe, expect, test } from 'vitest'
import { toMatch, toSegments } from '../../server/catalogue/search-words.ts'
import type { Db } from '../../server/db/open.ts'
import {
  makeClaim,
  makeDraft,
  makeOriginal,
  makePiece,
  makeRevision,
  makeSitting,
  makeSource,
  makeYarn,
} from '../support/rows.ts'
import { migratedDb, startApp, type Started } from '../support/start.ts'

async function search({ get, broken }: Started, q: string, rest = '') {
  const answer = await get(`/search?q=${encodeURIComponent(q)}${rest}`)
  expect(broken).toEqual([])
  expect(answer.status).toBe(200)
  const text = answer.text.replaceAll('&#x3D;', '=').replaceAll('&amp;', '&')
  const hits = [...text.matchAll(/<h2><a href="([^"]*)">(.*?)<\/a><\/h2>/g)].map(([, path, title]) => ({ path, title }))
  const count = /role="status">([^<]*)</.exec(text)?.[1]
  return { text, hits, paths: hits.map(({ path }) => path), count, next: /href="([^"]*)" rel="next"/.exec(text)?.[1] }
}

describe('toMatch(typed)', () => {
  test.each([
    ['madder', '"madder"*'],
    ['madder bor', '"madder" "bor"*'],
    ['"stepped fret"', '"stepped fret"'],
    ['“stepped fret” bor', '"stepped fret" "bor"*'],
    ['"stepped fr', '"stepped fr"*'],
    ['a OR b NOT c NEAR(d)', '"a" "OR" "b" "NOT" "c" "NEAR(d)"*'],
    ['title:fret -fret ^fret fret*', '"title:fret" "-fret" "^fret" "fret*"*'],
    ['FM 12 – 4', '"FM" "12" "4"*'],
    ['madder\u0000', '"madder"*'],
  ])('reads %j', (typed, match) => {
    expect(toMatch(typed)).toBe(match)
  })

  test.each(['', '   ', '"', '""', '* ^ ( ) - :', '…'])('finds nothing to look for in %j', (typed) => {
    expect(toMatch(typed)).toBeUndefined()
  })
})

describe('toSegments(marked)', () => {
  test('parts a marked text and drops marks that lead nowhere', () => {
    expect(toSegments('the \ue000fret\ue001 of')).toEqual([
      { text: 'the ', hit: false },
      { text: 'fret', hit: true },
      { text: ' of', hit: false },
    ])
    expect(toSegments('\ue001a\ue000')).toEqual([{ text: 'a', hit: false }])
  })
})

/** Every column with words in it, by table: what a marker word there leads to. */
const COLUMNS: [table: string, column: string, make: (db: Db, word: string) => string][] = [
  ...[
    'name',
    'other_names',
    'holder',
    'inventory_number',
    'find_place',
    'find_context',
    'technique',
    'preservation',
  ].map(onOriginal),
  ...['notes', 'date_edtf'].map(onOriginal),
  ...['name', 'maker', 'for_whom', 'notes', 'went_wrong', 'set_aside_reason'].map(onPiece),
  ...['title', 'people', 'year', 'container', 'pages', 'doi', 'isbn', 'url', 'notes'].map(onSource),
  ['draft', 'title', (db, word) => `/drafts/${withRevision(db, makeDraft(db, { title: word }))}`],
  ['draft', 'notes', (db, word) => `/drafts/${withRevision(db, makeDraft(db, { notes: word }))}`],
  ['draft_revision', 'note', (db, word) => `/drafts/${withRevision(db, makeDraft(db), { note: word })}`],
  [
    'draft_revision',
    'a colour name',
    (db, word) => `/drafts/${withRevision(db, makeDraft(db), { document: document(word) })}`,
  ],
  ...['role', 'yarn'].map(onYarn),
  ...['note', 'maker'].map(onSitting),
  ...['part', 'words', 'claimed_by', 'locator', 'reason', 'working_reason', 'withdrawn_reason'].flatMap(onClaim),
  ['feature', 'label', onFeature],
]

const document = (word: string) => JSON.stringify({ colours: { m: { name: word, hex: '#9c3b2e' } } })

function withRevision(db: Db, draft_id: number, row: { note?: string; document?: string } = {}): number {
  makeRevision(db, { draft_id, ...row })
  return draft_id
}

function onOriginal(column: string): (typeof COLUMNS)[number] {
  return ['original', column, (db, word) => `/originals/${makeOriginal(db, { [column]: word })}`]
}
function onPiece(column: string): (typeof COLUMNS)[number] {
  return ['piece', column, (db, word) => `/pieces/${makePiece(db, { [column]: word })}`]
}
function onSource(column: string): (typeof COLUMNS)[number] {
  return ['source', column, (db, word) => `/sources/${makeSource(db, { [column]: word })}`]
}
function onYarn(column: string): (typeof COLUMNS)[number] {
  return [
    'piece_yarn',
    column,
    (db, word) => {
      const piece_id = makePiece(db)
      makeYarn(db, { piece_id, [column]: word })
      return `/pieces/${piece_id}`
    },
  ]
}
function onSitting(column: string): (typeof COLUMNS)[number] {
  return [
    'sitting',
    column,
    (db, word) => {
      const piece_id = makePiece(db)
      makeSitting(db, { piece_id, [column]: word })
      return `/pieces/${piece_id}`
    },
  ]
}
function onClaim(column: string): (typeof COLUMNS)[number][] {
  const of = (db: Db, word: string, about: 'original_id' | 'piece_id') => {
    const id = about === 'original_id' ? makeOriginal(db) : makePiece(db)
    makeClaim(db, { [about]: id, [column]: word })
    return `${about === 'original_id' ? '/originals' : '/pieces'}/${id}`
  }
  return [
    ['claim of an original', column, (db, word) => of(db, word, 'original_id')],
    ['claim of a piece', column, (db, word) => of(db, word, 'piece_id')],
  ]
}
function onFeature(db: Db, word: string): string {
  db.run(db.sql.insertInto('feature').values({ key: 'own', label: word, quantity: 'text', created_at: '' }))
  const id = makeOriginal(db)
  makeClaim(db, { original_id: id, feature: 'own' })
  return `/originals/${id}`
}

describe('GET /search?q=', () => {
  test.each(COLUMNS)('finds a word of %s.%s', async (_table, _column, make) => {
    const started = startApp()
    makeOriginal(started.db, { name: 'Another band' })
    const path = make(started.db, 'quillwort')
    expect((await search(started, 'quillwort')).paths).toEqual([path])
    expect((await search(started, 'QUILLW')).paths).toEqual([path])
  })

  test('wants all of the words, the last one only begun', async () => {
    const started = startApp()
    const id = makeSource(started.db, { title: 'Borders in madder', notes: 'and a little weld' })
    makeSource(started.db, { title: 'Borders in woad' })
    expect((await search(started, 'madder bord')).paths).toEqual([`/sources/${id}`])
    expect((await search(started, 'mad borders')).paths).toEqual([])
  })

  test('makes no difference between letters with and without accents', async () => {
    const started = startApp()
    makeSource(started.db, { title: 'Brettchengewebe aus Ødegård, Kötzting' })
    for (const q of ['kotzting', 'KÖTZTING', 'ødegard', 'Ødegard']) {
      expect((await search(started, q)).paths).toHaveLength(1)
    }
  })

  test('takes words between quotation marks in their order', async () => {
    const started = startApp()
    const id = makeSource(started.db, { title: 'A stepped fret' })
    makeSource(started.db, { title: 'A fret, not stepped' })
    expect((await search(started, '"stepped fret"')).paths).toEqual([`/sources/${id}`])
    expect((await search(started, 'stepped fret')).paths).toHaveLength(2)
  })

  test.each([
    'AND',
    'a AND',
    'NEAR(a b',
    '"',
    '"a',
    'a*b',
    '^',
    'title:',
    '(',
    "'",
    '-a',
    '{a b}:c',
    '\\',
    '%',
    'a"b"c',
    '+',
  ])('takes %j as text, whatever it means elsewhere', async (q) => {
    const started = startApp()
    makeSource(started.db, { title: 'Bands' })
    expect((await search(started, q)).hits).toEqual([])
  })

  test('puts a word in a title before the same word in a text', async () => {
    const started = startApp()
    const text = makeSource(started.db, { title: 'Bands', notes: 'The lozenge, again the lozenge, always a lozenge' })
    const title = makeSource(started.db, { title: 'The lozenge', notes: 'On patterns of the fen and others.' })
    expect((await search(started, 'lozenge')).paths).toEqual([`/sources/${title}`, `/sources/${text}`])
  })

  test('marks what was found and lets no markup of a text through', async () => {
    const started = startApp()
    makeSource(started.db, { title: '<b>Fret</b> & \ue000more', notes: '<script>alert("fret")</script>' })
    const { text, hits } = await search(started, 'fret')
    expect(hits[0]?.title).toBe('&lt;b&gt;<mark>Fret</mark>&lt;/b&gt; & <mark>more</mark>')
    expect(text).toContain('&lt;script&gt;alert(&quot;<mark>fret</mark>&quot;)&lt;/script&gt;')
    expect(text).not.toContain('<script>alert')
  })

  test('says how many hits each kind has and shows one kind alone', async () => {
    const started = startApp()
    const { db } = started
    const original = makeOriginal(db, { name: 'Fen band' })
    makePiece(db, { name: 'Fen trial' })
    makePiece(db, { name: 'Fen trial, again' })
    const { text, count } = await search(started, 'fen')
    expect(count).toBe('Found in 3 places, the closest first.')
    expect(text).toMatch(/Everything <span class="number">3/)
    expect(text).toMatch(/href="\/search\?q=fen&kind=piece">Pieces <span class="number">2/)
    expect(text).toMatch(/<span class="soft">Drafts <span class="number">0/)
    const one = await search(started, 'fen', '&kind=original')
    expect(one.paths).toEqual([`/originals/${original}`])
    expect(one.text).toMatch(/aria-current="true">Originals <span class="number">1/)
  })

  test('leads through many hits, 50 a page, each once', async () => {
    const started = startApp()
    const { db } = started
    db.write(() => {
      for (let index = 0; index < 130; index++)
        makeSource(db, { title: `Fen ${'band '.repeat(index % 4)}`, notes: `${index}` })
    })
    const first = await search(started, 'fen')
    expect(first.count).toBe('1 to 50 of 130 places, the closest first.')
    const page = async (address: string) => {
      const [, q = '', after = ''] = /q=([^&]*)&after=(.*)$/.exec(address) ?? []
      return search(started, q, `&after=${after}`)
    }
    const second = await page(first.next ?? '')
    const third = await page(second.next ?? '')
    expect(second.count).toBe('51 to 100 of 130 places, the closest first.')
    expect(third.count).toBe('101 to 130 of 130 places, the closest first.')
    expect(third.next).toBeUndefined()
    expect(new Set([...first.paths, ...second.paths, ...third.paths]).size).toBe(130)
  })

  test('that finds nothing offers each word alone', async () => {
    const started = startApp()
    makeSource(started.db, { title: 'Madder' })
    const { text, count } = await search(started, 'madder quillwort')
    expect(count).toBe('Nothing in the notebook has that.')
    expect(text).toMatch(/<a href="\/search\?q=madder">madder<\/a>: <span class="number">1</)
    expect(text).toMatch(/quillwort: <span class="number">0</)
    expect(text).toContain('href="/originals"')
  })

  test('of nothing says what is looked through', async () => {
    const { text } = await search(startApp(), '')
    expect(text).toContain('every word of the notebook is looked through')
    expect((await search(startApp(), '?!')).count).toBe('There is no letter and no figure to look for in that.')
  })
})

describe('the index', () => {
  const found = (db: Db, word: string) =>
    db.raw.prepare('select kind || item_id from search where search match ? order by 1').pluck().all(word)
  const check = (db: Db) => db.raw.exec("insert into search (search) values ('integrity-check')")

  test('follows a change and a deletion of each kind', () => {
    const db = migratedDb()
    const original = makeOriginal(db, { name: 'quillwort' })
    const piece = makePiece(db, { name: 'quillwort' })
    const draft = makeDraft(db, { title: 'quillwort' })
    const source = makeSource(db, { title: 'quillwort' })
    expect(found(db, 'quillwort')).toEqual([`draft${draft}`, `original${original}`, `piece${piece}`, `source${source}`])
    db.raw.exec("update original set name = 'sedge'; update piece set name = 'sedge'")
    db.raw.exec("update draft set title = 'sedge'; update source set title = 'sedge'")
    expect(found(db, 'quillwort')).toEqual([])
    expect(found(db, 'sedge')).toHaveLength(4)
    db.raw.exec('delete from original; delete from piece; delete from draft; delete from source')
    expect(db.raw.prepare('select count(*) from search').pluck().get()).toBe(0)
    check(db)
  })

  test('follows a change and a deletion of what belongs to a thing', () => {
    const db = migratedDb()
    const piece_id = makePiece(db)
    makeClaim(db, { piece_id, words: 'quillwort' })
    makeYarn(db, { piece_id, yarn: 'quillwort' })
    makeSitting(db, { piece_id, note: 'quillwort' })
    db.raw.exec(
      "update claim set words = 'sedge'; update piece_yarn set yarn = 'rush'; update sitting set note = 'reed'",
    )
    expect(found(db, 'quillwort')).toEqual([])
    expect(found(db, 'sedge AND rush AND reed')).toEqual([`piece${piece_id}`])
    db.raw.exec('delete from claim; delete from piece_yarn; delete from sitting')
    expect(found(db, 'sedge OR rush OR reed')).toEqual([])
    check(db)
  })

  test('loses everything that a deletion takes along, and nothing else', () => {
    const db = migratedDb()
    const original = makeOriginal(db, { name: 'gone' })
    makeClaim(db, { original_id: original, words: 'quillwort' })
    const draft = makeDraft(db, { title: 'stays', original_id: original })
    makeRevision(db, { draft_id: draft, note: 'sedge' })
    const piece = makePiece(db, { name: 'gone too' })
    makeSitting(db, { piece_id: piece, note: 'quillwort' })
    db.raw.exec('delete from original; delete from piece')
    expect(found(db, 'quillwort')).toEqual([])
    expect(found(db, 'gone')).toEqual([])
    expect(found(db, 'sedge')).toEqual([`draft${draft}`])
    db.raw.exec('delete from draft')
    expect(db.raw.prepare('select count(*) from search').pluck().get()).toBe(0)
    check(db)
  })
})
