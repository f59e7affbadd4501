import { describe, expect, test } from 'vitest'
import { makeOriginal, makePiece, makeSource } from '../support/rows.ts'
import { startApp, type Started } from '../support/start.ts'

async function search({ get, broken }: Started, q: string, rest = '') {
  const answer = await get(`/search?q=${encodeURIComponent(q)}${rest}`)
  expect(broken).toEqual([])
  expect(answer.status).toBe(200)
  const text = answer.text.replaceAll('&#x3D;', '=').replaceAll('&amp;', '&')
  const hits = [...text.matchAll(/<h2><a href="([^"]*)">(.*?)<\/a><\/h2>/g)].map(([, path, title]) => ({ path, title }))
  const count = /role="status">([^<]*)</.exec(text)?.[1]
  return { text, hits, paths: hits.map(({ path }) => path), count, next: /href="([^"]*)" rel="next"/.exec(text)?.[1] }
}

describe('GET /search?q=', () => {
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
