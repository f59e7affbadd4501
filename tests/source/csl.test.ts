import { describe, expect, test } from 'vitest'
import { citeKeys } from '../../shared/source/cite-key.ts'
import { fromCslItem } from '../../shared/source/from-csl.ts'
import { SOURCE_KIND_KEYS } from '../../server/source/form.ts'
import { readLocator } from '../../shared/source/locator.ts'
import { readNames, writeNames } from '../../shared/source/name.ts'
import { readCslItem } from '../../shared/source/read-csl.ts'
import { keysOf } from '../../shared/source/same.ts'
import { toCslItem } from '../../shared/source/to-csl.ts'
import type { SourceWords } from '../../shared/source/words.ts'
import { readYear, writeYear } from '../../shared/source/year.ts'

const FULL: SourceWords = {
  ...{ title: 'Bands of the Fen', people: 'Oss, Rolf; van der Linde, Ada; {Fen, Marsh and Moor Trust}', year: '1987' },
  ...{ kind: 'article', container: 'Fen Papers', pages: '31-58', doi: '10.1000/182', isbn: '', issn: '0317-8471' },
  ...{
    url: 'https://example.org/fen',
    editors: '',
    volume: '14',
    issue: '2',
    publisher: 'Fen Press',
    place: 'Quennet',
  },
  ...{ edition: '2', accessedOn: '2026-03-14', citeKey: 'oss-1987', notes: '' },
}

describe('readNames(line)', () => {
  test.each([
    ['Oss, Rolf', [{ family: 'Oss', given: 'Rolf' }], []],
    ['Museum of the Fen', [{ literal: 'Museum of the Fen' }], []],
    [
      '{Fen, Marsh and Moor Trust}; Oss, R.',
      [{ literal: 'Fen, Marsh and Moor Trust' }, { family: 'Oss', given: 'R.' }],
      [],
    ],
    ['Emmer, D. (ed.)', [], [{ family: 'Emmer', given: 'D.' }]],
    ['Oss, R.; Emmer, D. (ed.)', [{ family: 'Oss', given: 'R.' }], [{ family: 'Emmer', given: 'D.' }]],
    [
      'Oss, R.; Emmer, D. (eds)',
      [],
      [
        { family: 'Oss', given: 'R.' },
        { family: 'Emmer', given: 'D.' },
      ],
    ],
    ['Vallow, Ineth, Jr', [{ family: 'Vallow', given: 'Ineth', suffix: 'Jr' }], []],
    [' ; , ;{}', [], []],
  ])('%s', (line, authors, editors) => {
    expect(readNames(line)).toEqual({ authors, editors })
  })
  test('writeNames gives the line back', () => {
    expect(writeNames(readNames(FULL.people).authors)).toBe(FULL.people)
  })
})

describe('readYear(text)', () => {
  test.each([
    ['1987', { 'date-parts': [[1987]] }],
    ['1987-03', { 'date-parts': [[1987, 3]] }],
    ['2026-03-14', { 'date-parts': [[2026, 3, 14]] }],
    ['1987–89', { 'date-parts': [[1987], [1989]] }],
    ['1987/1989', { 'date-parts': [[1987], [1989]] }],
    ['c. 1890', { 'date-parts': [[1890]], circa: true }],
    // CSL counts years without a year 0: -450 is 450 BCE.
    ['450 BCE', { 'date-parts': [[-450]] }],
    ['in press', { literal: 'in press' }],
    ['2026-02-31', { literal: '2026-02-31' }],
  ])('%s', (text, date) => {
    expect(readYear(text)).toEqual(date)
    expect(readYear(writeYear(readYear(text)))).toEqual(date)
  })
})

describe('readLocator(typed)', () => {
  test.each([
    ['p. 41', 'page', '41'],
    ['pp. 41–43', 'page', '41–43'],
    ['41', 'page', '41'],
    ['41-43, 50', 'page', '41-43, 50'],
    ['Fig. 3a', 'figure', '3a'],
    ['figs 3 and 4', 'figure', '3 and 4'],
    ['pl. XII', 'plate', 'XII'],
    ['Taf. 4', 'plate', '4'],
    ['cat. no. 12', 'catalogue', '12'],
    ['cat. nos 12, 14', 'catalogue', '12, 14'],
    ['table 2, width', 'table', '2, width'],
    ['inside cover', '', 'inside cover'],
    ['plates behind glass', '', 'plates behind glass'],
    ['12 May, second page', '', '12 May, second page'],
  ])('%s', (typed, label, text) => {
    expect(readLocator(typed)).toEqual({ label, text })
  })
})

describe('toCslItem and fromCslItem', () => {
  test.each(SOURCE_KIND_KEYS)('a source of kind %s comes back as it was', (kind) => {
    const source = { ...FULL, kind }
    const { words, other, lost } = fromCslItem(toCslItem(source, {}, 'oss-1987'))
    expect({ ...words, notes: '' }).toEqual(source)
    expect({ other, lost }).toEqual({ other: {}, lost: [] })
  })

  test('what no field holds goes along, and out again', () => {
    const item = {
      ...{ id: 'a', type: 'manuscript' as const, title: 'Pattern book', archive: 'Tessary chapel', language: 'nl' },
      ...{ translator: [{ family: 'Visser', given: 'Ada' }], 'original-date': { 'date-parts': [[1612]] } },
    }
    const { words, other } = fromCslItem(item)
    expect(words.kind).toBe('other')
    expect(toCslItem(words, other, 'a')).toEqual({ ...item, 'citation-key': 'a' })
  })

  test('an edited book has its editors as people; identifiers that are wrong are left out and named', () => {
    const { words, lost } = fromCslItem({
      ...{ id: 'x', type: 'book', title: 'Held by the Water', editor: [{ family: 'Emmer', given: 'D.' }] },
      ...{ ISBN: '9780306406158', DOI: 'nonsense', URL: 'javascript:alert(1)' },
    })
    expect(words).toMatchObject({ people: 'Emmer, D. (ed.)', editors: '', isbn: '', doi: '', url: '' })
    expect(lost.map((what) => what.split(' ')[0])).toEqual(['URL', 'DOI', 'ISBN'])
  })
})

describe('readCslItem(given, id)', () => {
  test('takes over what CSL knows, names what it does not, and never touches a prototype', () => {
    const given: unknown = JSON.parse(
      '{"type":"book","title":"A <i>fine</i> band","__proto__":{"polluted":1},"constructor":{"prototype":{"polluted":1}},' +
        '"author":[{"family":"Linde","non-dropping-particle":"van der","given":"Ada"},"Museum",7],"issued":"1987/03",' +
        '"accessed":{"date-parts":[["2026","3"]]},"volume":3,"nonsense":"x","publisher":{"deep":[[[]]]}}',
    )
    const read = readCslItem(given, 'a')
    if (typeof read === 'string') throw new Error(read)
    expect(read.item).toEqual({
      ...{ id: 'a', type: 'book', title: 'A fine band', volume: '3' },
      author: [{ family: 'van der Linde', given: 'Ada' }, { literal: 'Museum' }],
      ...{ issued: { 'date-parts': [[1987, 3]] }, accessed: { 'date-parts': [[2026, 3]] } },
    })
    expect(read.lost).toEqual([
      ...['italics and the like in title', '__proto__', 'constructor', 'some names in author', 'nonsense', 'publisher'],
    ])
    expect(({} as { polluted?: number }).polluted).toBeUndefined()
  })

  test.each([null, 7, 'text', [[]]])('%j is no item', (given) => {
    expect(readCslItem(given, 'a')).toBe('This is no object.')
  })
})

test('keysOf(source): one ISBN in both lengths, a DOI in any case, a title without its accents; no chapter by its ISBN', () => {
  const of = (words: Partial<SourceWords>) => keysOf({ ...FULL, doi: '', ...words }).map(({ key }) => key)
  expect(of({ isbn: '0-306-40615-2' })[0]).toBe(of({ isbn: '978-0-306-40615-7' })[0])
  expect(of({ doi: '10.1000/ABC' })[0]).toBe(of({ doi: '10.1000/abc' })[0])
  expect(of({ title: 'Bänder, des Moors!', year: 'c. 1987' })).toEqual(of({ title: 'bander des moors' }))
  expect(of({ kind: 'chapter', isbn: '0-306-40615-2' })).toHaveLength(1)
})

test('citeKeys(sources): own keys stay, others are made of name and year, none stands twice', () => {
  const source = (people: string, citeKey = '') => ({ people, citeKey, title: 'Bands', year: '1987' })
  expect(citeKeys([source('Öss, R.'), source('Oss, A.'), source('', 'my key{}'), source('中', '')])).toEqual([
    ...['oss1987', 'oss1987a', 'mykey', 'source'],
  ])
})
