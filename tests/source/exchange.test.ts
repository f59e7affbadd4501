import { existsSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { Ajv } from 'ajv'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { askCitation } from '../../server/cite-thread.ts'
import { readSourceForm } from '../../server/source/form.ts'
import { listSources } from '../../server/source/queries.ts'
import { toFileItems, writeSources, type Format } from '../../server/source-export/write.ts'
import { lookAtFile } from '../../server/source-import/look.ts'
import { makeSource } from '../support/make.ts'
import { migratedDb } from '../support/start.ts'

const ARTICLE = {
  ...{ title: 'Bänder & Borten {des} Moors – 100 % #1_a', people: 'Öss, Rölf; van der Linde, Ada; {Fen, Marsh Trust}' },
  ...{ year: '1987', kind: 'article', container: 'Łódź Papers', volume: '14', issue: '2', pages: '31-58' },
  ...{ doi: '10.1000/x_y(1)', issn: '0317-8471', url: 'https://example.org/a_b?c=%20', citeKey: 'oss-1987' },
  notes: 'Plate 4 is upside down.',
} as const
const CHAPTER = {
  ...{
    title: 'Counting tablets',
    people: 'Pell, J.',
    year: '2017',
    kind: 'chapter',
    container: 'Threads',
    pages: '112-140',
  },
  ...{ editors: 'Visser, Ada; Emmer, D.', publisher: 'Fen Press', place: 'Quennet', isbn: '978-0-306-40615-7' },
} as const
const CATALOGUE = {
  ...{
    title: 'Held by the Water',
    people: 'Emmer, D. (ed.)',
    year: '2011',
    kind: 'catalogue',
    container: 'Rooms',
    issue: '6',
  },
  ...{ publisher: 'Museum of the Fen', place: 'Quennet', edition: '2' },
} as const

const typed = (fields: Readonly<Record<string, string>>) => {
  const read = readSourceForm(fields)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.value
}

async function andBack(fields: readonly Readonly<Record<string, string>>[], format: Format) {
  const db = migratedDb()
  for (const each of fields) makeSource(db, typed(each))
  const looked = await lookAtFile(await writeSources(listSources(db), format), format, [])
  return looked.map((entry) => ('form' in entry ? { ...entry.form, lost: entry.lost } : entry))
}

/** Fields that a format has no place for, each as it comes back. */
const LOSES: Readonly<Record<Format, readonly Readonly<Record<string, string>>[]>> = {
  csl: [{}, {}, {}],
  // A catalogue is a book to everybody else.
  bibtex: [{}, {}, { kind: 'book' }],
  // An institution with a comma in its name is a person there; a catalogue is a book.
  ris: [{ people: 'Öss, Rölf; van der Linde, Ada; Fen, Marsh Trust' }, {}, { kind: 'book' }],
}

describe('sources written and read again', () => {
  test.each(['csl', 'bibtex', 'ris'] as const)(
    'as %s they are the same, but for what it has no place for',
    async (format) => {
      const sources = [ARTICLE, CHAPTER, CATALOGUE]
      const back = await andBack(sources, format)
      // By title, as they are listed.
      const before = sources
        .map((fields, at) => ({ ...typed(fields), ...LOSES[format][at] }))
        .sort((a, b) => (a.title < b.title ? -1 : 1))
      for (const [at, source] of before.entries()) {
        const citeKey =
          source.citeKey || ({ 'Counting tablets': 'pell2017', 'Held by the Water': 'emmer2011' }[source.title] ?? '')
        expect(back[at]).toEqual({ ...source, citeKey, lost: [] })
      }
    },
  )

  test('any title, name and note comes back through BibTeX and RIS', async () => {
    const word = fc.string({ unit: 'binary', minLength: 1, maxLength: 30 }).map((text) =>
      // What a form takes: one line that can be seen; braces of names are the form's own.
      text
        .replace(/[\p{C}\p{Z}\u0300-\u036f<>]+/gu, ' ')
        .trim()
        .normalize('NFC'),
    )
    const samples = fc
      .sample(fc.record({ title: word, publisher: word, family: word }), { numRuns: 60, seed: 7 })
      .map(({ title, publisher, family }) => ({
        ...{
          title: `T ${title}`,
          publisher: `P ${publisher}`,
          people: `F${family.replace(/[;,{}()]/g, '')}, Ada`,
          year: '1987',
          kind: 'book',
        },
      }))
    for (const format of ['bibtex', 'ris'] as const) {
      const back = (await andBack(samples, format)) as { title?: string; problem?: string }[]
      expect(back.filter(({ problem }) => problem)).toEqual([])
      expect(back).toHaveLength(samples.length)
    }
  })
})

describe('toFileItems(sources)', () => {
  const schema = fileURLToPath(new URL('../../../shared/schemas/csl/csl-data.json', import.meta.url))
  test.skipIf(!existsSync(schema) && process.env.CI === undefined)('is CSL-JSON by its published schema', async () => {
    const validate = new Ajv({ strict: false, allErrors: true }).compile(
      JSON.parse(readFileSync(schema, 'utf8')) as object,
    )
    const db = migratedDb()
    for (const fields of [ARTICLE, CHAPTER, CATALOGUE, { ...ARTICLE, kind: 'visit', year: 'c. 450 BCE' }])
      makeSource(db, typed(fields))
    expect(validate(toFileItems(listSources(db)))).toBe(true)
    expect(validate([{ id: 'a', type: 'nonsense' }])).toBe(false)
  })
})

const readAs = (format: 'bibtex' | 'ris', text: string) => askCitation({ kind: 'read', format, text })

describe('a file of BibTeX', () => {
  test('escapes of LaTeX, @string, institutions and a broken entry between two whole ones', async () => {
    const looked = await lookAtFile(
      `@string{fp = {Fen Papers}}
@article{one, author = {{\\"O}ss, R{\\"o}lf and {Museum of the Fen} and others}, title = {{K}apitel \\"uber B\\"ander -- \\emph{Iris}, \\ss{} \\'e}, journal = fp, year = 1987, pages = {41--43}, file = {x.pdf}}
@book{broken, title = {No end
@phdthesis{two, author = "Linde, Ada van der", title = "Borders", school = {Quennet}, year = 1999}
@comment{nothing}`,
      'bibtex',
      [],
    )
    expect(looked).toMatchObject([
      {
        ...{
          place: 'line 2, one',
          lost: [
            ...['file', '“and others” among the authors'].map((what) => `${what}: not understood`),
            'italics and the like in title: left out',
          ],
        },
        form: {
          title: 'Kapitel über Bänder – Iris, ß é',
          ...{ people: 'Öss, Rölf; Museum of the Fen', container: 'Fen Papers', pages: '41-43' },
        },
      },
      { place: 'line 4, two', form: { kind: 'thesis', publisher: 'Quennet' }, other: { genre: 'PhD thesis' } },
      { place: 'line 3', problem: 'This entry is not closed: a brace or quotation mark is missing.' },
    ])
  })

  test('a file made to do harm is refused or harmless, and the next one is read', async () => {
    const hostile = [
      `@book{a, title = ${'{'.repeat(5000)}x${'}'.repeat(5000)}}`,
      `@book{a, title = {${'\\emph{'.repeat(30)}x${'}'.repeat(30)}}}`,
      '@book{__proto__, title = {x}, __proto__ = {y}, constructor = {z}}',
      '@string{a = "x" # "y"} @string{a = a # a # a # a # a # a # a # a} @book{b, title = a # a # a # a # a}',
      `@book{c, title = {\\input{/etc/passwd} \\write18{touch x}}, url = {file:///etc/passwd}}`,
      '@'.repeat(100_000),
    ]
    for (const text of hostile) {
      const looked = await lookAtFile(text, 'bibtex', [])
      for (const entry of looked) if ('form' in entry) expect(entry.form.url).toBe('')
    }
    expect(await readAs('bibtex', '@book{d, title = {Still here}}')).toMatchObject([{ given: { title: 'Still here' } }])
  }, 60_000)
})

describe('a file of RIS', () => {
  test('lines that go on, editors in ED, a DOI beside old tags, a record without its end', async () => {
    const looked = await lookAtFile(
      'TY  - CHAP\nAU  - Oss, Rolf\nED  - Visser, Ada\nT1  - Borders of\n the Fen\nT2  - Threads\nY1  - 1987/03/14\nSP  - 41\nEP  - 43\nDO  - 10.1000/182\nID  - oss\nXX  - odd\nTY  - BOOK\nTI  - Second\nER  - \nstray',
      'ris',
      [],
    )
    expect(looked).toMatchObject([
      {
        place: 'line 1, oss',
        lost: ['XX: not understood'],
        form: {
          ...{ title: 'Borders of the Fen', people: 'Oss, Rolf', editors: 'Visser, Ada', container: 'Threads' },
          ...{ year: '1987-03-14', pages: '41-43', doi: '10.1000/182', kind: 'chapter' },
        },
      },
      { place: 'line 13', lost: [], form: { title: 'Second', kind: 'book', citeKey: '' } },
      { place: 'line 16', problem: expect.stringContaining('outside of any record') as string },
    ])
  })
})

test('a file of CSL-JSON that is no JSON, or nested without end, is one entry with its reason', async () => {
  for (const text of ['{"type": ', '['.repeat(200_000)])
    expect(await lookAtFile(text, 'csl', [])).toMatchObject([{ problem: expect.stringContaining('no JSON') as string }])
  expect(await lookAtFile('[[[]]]', 'csl', [])).toMatchObject([{ problem: 'This is no object.' }])
})
