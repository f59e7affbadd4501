import { describe, expect, test } from 'vitest'
import {
  makeClaim,
  makeDraft,
  makeOriginal,
  makePiece,
  makeRevision,
  makeSitting,
  makeSource,
} from '../support/rows.ts'
import { startApp, type Started } from '../support/start.ts'

/** The titles of a list, and where its next page is. */
async function read({ get }: Started, path: string) {
  const { text, status } = await get(path)
  expect(status).toBe(200)
  const titles = [...text.matchAll(/<h2><a href="[^"]*">([^<]*)<\/a><\/h2>/g)].map(([, title]) => title)
  const unescaped = text.replaceAll('&#x3D;', '=').replaceAll('&amp;', '&')
  const next = /href="([^"]*)" rel="next">([^<]*)</.exec(unescaped)
  const count = /id="count">([^<]*)</.exec(text)?.[1]
  const options = [...unescaped.matchAll(/<option value="([^"]*)"( selected)?>([^<]*)</g)].map(([, , , label]) => label)
  return { text: unescaped, titles, next: next?.[1], nextLabel: next?.[2], count, options }
}

describe('GET /originals', () => {
  test('shows what one chooses by', async () => {
    const started = startApp()
    const id = makeOriginal(started.db, {
      ...{ name: 'Band of Oss', holder: 'Fen Museum', inventory_number: 'FM 12', date_edtf: '-0449~' },
      technique: 'tablet-woven',
    })
    makeClaim(started.db, { original_id: id })
    makeClaim(started.db, { original_id: id, withdrawn_on: '2026-11-01' })
    makePiece(started.db, { original_id: id })
    const { text, titles, count } = await read(started, '/originals')
    expect(titles).toEqual(['Band of Oss'])
    expect(count).toBe('1 original, by name.')
    expect(text).toContain('Fen Museum, FM 12')
    expect(text).toContain('about 450 BCE')
    expect(text).toMatch(/<dt>Claims<\/dt>\s*<dd class="number">1<\/dd>/)
    expect(text).toMatch(/<dt>Pieces<\/dt>\s*<dd class="number">1<\/dd>/)
  })

  test('stands by name, capitals and ids deciding nothing but a tie', async () => {
    const started = startApp()
    for (const name of ['birch band', 'Alder band', 'Birch band', 'alder band']) makeOriginal(started.db, { name })
    expect((await read(started, '/originals')).titles).toEqual(['Alder band', 'alder band', 'birch band', 'Birch band'])
  })

  test('says in an empty notebook what goes here, with one action and one example', async () => {
    const { text } = await read(startApp(), '/originals')
    expect(text).toContain('The historical textiles you study')
    expect(text).toContain('For instance:')
    expect(text.match(/href="\/originals\/new"/g)).toHaveLength(1)
    expect(text).not.toContain('<form class="filters"')
  })

  test('says how many each choice leaves, the other filters taken into account', async () => {
    const started = startApp()
    const { db } = started
    const first = makeOriginal(db, { name: 'A', holder: 'Fen Museum', technique: 'tablet-woven' })
    makeOriginal(db, { name: 'B', holder: 'Fen Museum', technique: 'tablet-woven' })
    makeOriginal(db, { name: 'C', holder: 'Fen Museum', technique: 'tabby' })
    makeOriginal(db, { name: 'D', technique: 'tabby' })
    makePiece(db, { original_id: first })
    expect((await read(started, '/originals')).options).toEqual([
      ...['Any holder (4)', 'not given (1)', 'Fen Museum (3)', 'Any technique (4)', 'tabby (2)', 'tablet-woven (2)'],
      ...['With or without (4)', 'with pieces (1)', 'without pieces (3)'],
    ])
    const filtered = await read(started, '/originals?holder=Fen+Museum&technique=tablet-woven')
    expect(filtered.titles).toEqual(['A', 'B'])
    expect(filtered.count).toBe('2 of 4 originals, by name.')
    expect(filtered.options).toEqual([
      ...['Any holder (2)', 'Fen Museum (2)', 'Any technique (3)', 'tabby (1)', 'tablet-woven (2)'],
      ...['With or without (2)', 'with pieces (1)', 'without pieces (1)'],
    ])
    expect(filtered.text).toContain('<a href="/originals">Clear filters</a>')
    expect((await read(started, '/originals?holder=-')).titles).toEqual(['D'])
    expect((await read(started, '/originals?pieces=with')).titles).toEqual(['A'])
  })

  test('keeps a choice that leaves nothing in sight', async () => {
    const started = startApp()
    makeOriginal(started.db, { name: 'A', holder: 'Fen Museum', technique: 'tabby' })
    makeOriginal(started.db, { name: 'B', holder: 'Moor Museum', technique: 'braid' })
    const { text, count, titles } = await read(started, '/originals?holder=Fen+Museum&technique=braid')
    expect(titles).toEqual([])
    expect(count).toBe('None of 2 originals passes these filters.')
    expect(text).toContain('<option value="Fen Museum" selected>Fen Museum (0)</option>')
    expect(text).toContain('Clear filters')
    expect((await read(started, '/originals?holder=%27%22%3E')).count).toBe('None of 2 originals passes these filters.')
  })
})

describe('GET /originals?after=', () => {
  /** 120 names, some of them alike, made in an order that is not the list's. */
  function filled() {
    const started = startApp()
    const names = Array.from({ length: 120 }, (_, index) => `Band ${String(((index * 7) % 120) >> 1).padStart(3, '0')}`)
    started.db.write(() => names.forEach((name) => makeOriginal(started.db, { name, holder: 'Fen Museum' })))
    return { started, names: [...names].sort() }
  }

  test('leads through all of them, 50 a page, each once', async () => {
    const { started, names } = filled()
    const first = await read(started, '/originals')
    expect(first.titles).toHaveLength(50)
    expect(first.count).toBe('1 to 50 of 120 originals, by name.')
    expect(first.nextLabel).toBe('The next 50')
    expect(first.text).not.toContain('Back to the start')
    const second = await read(started, first.next ?? '')
    expect(second.count).toBe('51 to 100 of 120 originals, by name.')
    expect(second.nextLabel).toBe('The next 20')
    const third = await read(started, second.next ?? '')
    expect(third.count).toBe('101 to 120 of 120 originals, by name.')
    expect(third.next).toBeUndefined()
    expect(third.text).toContain('<a class="button quiet" href="/originals">Back to the start</a>')
    expect([...first.titles, ...second.titles, ...third.titles]).toEqual(names)
  })

  test('shows the same page when earlier entries come and go, also the one it begins behind', async () => {
    const { started } = filled()
    const { next = '' } = await read(started, '/originals')
    const before = (await read(started, next)).titles
    makeOriginal(started.db, { name: 'Aardvark band' })
    const last = Number(/after=(\d+)/.exec(next)?.[1])
    started.db.run(started.db.sql.deleteFrom('original').where('id', '=', last))
    expect((await read(started, next)).titles).toEqual(before)
  })

  test('keeps the filters on the way', async () => {
    const { started } = filled()
    makeOriginal(started.db, { name: 'Band 000', holder: 'Moor Museum' })
    const { next = '', count } = await read(started, '/originals?holder=Fen+Museum')
    expect(count).toBe('1 to 50 of 120 of 121 originals, by name.')
    expect(next).toContain('holder=Fen+Museum')
    expect((await read(started, next)).text).toContain('<option value="Fen Museum" selected>')
  })

  test.each(['x', '7', '0.Band', '1e3.Band', '-1.Band', ''])('"%s" is the start of the list', async (after) => {
    const started = startApp()
    makeOriginal(started.db, { name: 'Band of Oss' })
    expect((await read(started, `/originals?after=${after}`)).count).toBe('1 original, by name.')
  })

  test('behind the last entry says so and leads back', async () => {
    const started = startApp()
    makeOriginal(started.db, { name: 'Band of Oss' })
    const { text, count } = await read(started, '/originals?after=9.Zwirn')
    expect(count).toBe('1 original; none stands behind this place in the list.')
    expect(text).toContain('Back to the start')
  })
})

describe('GET /pieces', () => {
  test('shows maker, status with its day, original and hours without breaks', async () => {
    const started = startApp()
    const { db } = started
    const original = makeOriginal(db, { name: 'Band of Oss' })
    const id = makePiece(db, { name: 'Second trial', maker: 'Ilse', original_id: original, on_loom_on: '2026-11-02' })
    makeSitting(db, { piece_id: id, minutes: 90, break_minutes: 15 })
    makeSitting(db, { piece_id: id, minutes: 60 })
    const { text } = await read(started, '/pieces')
    expect(text).toContain('<dd>on the loom</dd>')
    expect(text).toContain('<dd class="number">2026-11-02</dd>')
    expect(text).toContain('Ilse')
    expect(text).toContain(`<a href="/originals/${original}">Band of Oss</a>`)
    // 75 + 60 minutes are 2.25 h; half away from zero.
    expect(text).toContain('2.3 h in 2 sittings')
  })

  test('is filtered by status, maker and original', async () => {
    const started = startApp()
    const { db } = started
    const original = makeOriginal(db, { name: 'Band of Oss' })
    makePiece(db, { name: 'A', maker: 'Ilse', original_id: original, on_loom_on: '2026-11-02' })
    makePiece(db, { name: 'B', maker: 'Ilse', set_aside_on: '2026-11-03', on_loom_on: '2026-11-02' })
    makePiece(db, { name: 'C', maker: 'Jory' })
    expect((await read(started, '/pieces')).options).toEqual([
      ...['Any status (3)', 'planned (1)', 'on the loom (1)', 'set aside (1)', 'Any maker (3)', 'Ilse (2)', 'Jory (1)'],
      ...['Any original or none (3)', 'own design (2)', 'Band of Oss (1)'],
    ])
    expect((await read(started, '/pieces?status=setAside')).titles).toEqual(['B'])
    expect((await read(started, '/pieces?status=constructor')).options).toContain('constructor (0)')
    expect((await read(started, '/pieces?maker=Ilse&status=onLoom')).titles).toEqual(['A'])
    expect((await read(started, `/pieces?original=${original}`)).titles).toEqual(['A'])
    expect((await read(started, '/pieces?original=-')).titles).toEqual(['B', 'C'])
  })
})

describe('GET /drafts', () => {
  test('shows the newest revision with a strip of its face, and filters by twist and tablets', async () => {
    const started = startApp()
    const { db } = started
    const fret = makeDraft(db, { title: 'Fret' })
    makeRevision(db, { draft_id: fret, number: 1, tablets: 6, picks: 8, twist_neutral: 1 })
    makeRevision(db, { draft_id: fret, number: 2, tablets: 24, picks: 96, twist_neutral: 0 })
    makeRevision(db, { draft_id: makeDraft(db, { title: 'Ladder' }), tablets: 10, picks: 4, twist_neutral: 1 })
    const { text, options } = await read(started, '/drafts')
    expect(text).toContain(`src="/drafts/${fret}/revisions/2/face.svg?lie=across&lengthMm=120"`)
    expect(options).toEqual([
      ...['Any twist (2)', 'twist-neutral (1)', 'twist builds up (1)'],
      ...['Any number (2)', '1 to 10 (1)', '21 to 40 (1)'],
      ...['Any way (2)', 'card not filled in (2)'],
    ])
    expect((await read(started, '/drafts?twist=neutral')).titles).toEqual(['Ladder'])
    expect((await read(started, '/drafts?tablets=21-40')).titles).toEqual(['Fret'])
  })
})

describe('GET /sources', () => {
  test('shows who and when, and how many claims rest on each', async () => {
    const started = startApp()
    const { db } = started
    const source = makeSource(db, { title: 'Fen finds', people: 'Oss, R.', year: '1934', kind: 'report' })
    makeSource(db, { title: 'Letter on the Oss band', kind: 'letter' })
    makeClaim(db, { original_id: makeOriginal(db), source_id: source })
    const { text, titles } = await read(started, '/sources?kind=report')
    expect(titles).toEqual(['Fen finds'])
    expect(text).toContain('Oss, R.')
    expect(text).toContain('Excavation or conservation report (1)')
    expect(text).toMatch(/<dt>Claims resting on it<\/dt>\s*<dd class="number">1<\/dd>/)
  })

  test('says what was just done', async () => {
    expect((await read(startApp(), '/sources?done=deleted')).text).toContain('In the bin now, for 30 days.')
  })
})
