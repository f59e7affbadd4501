import request from 'supertest'
import { describe, expect, test } from 'vitest'
import { decodeFile } from '../../server/source-import/decode.ts'
import { makeSource } from '../support/make.ts'
import { startApp, type Started } from '../support/start.ts'

const FILE = `@book{oss1987, title = {Bands of the Fen}, author = {Oss, Rolf}, year = 1987, publisher = {Fen Press}}
@article{pell2017, title = {Counting tablets}, author = {Pell, J.}, year = 2017, keywords = {tablets}, file = {x.pdf}}
@book{broken, title = {No end`

const markIn = (html: string) => /name="looked" value="([0-9a-f]+)"/.exec(html)?.[1] ?? ''
const titles = ({ db }: Started) => db.raw.prepare('select title from source order by id').pluck().all()

const send = ({ app }: Started, bytes: Buffer, fields: Record<string, string> = {}) => {
  const sent = request(app).post('/sources/import').set({ Host: 'localhost:4180', Origin: 'http://localhost:4180' })
  for (const [name, value] of Object.entries(fields)) void sent.field(name, value)
  return sent.attach('file', bytes, 'sources.bib')
}

describe('POST /sources/import', () => {
  test('shows what is in a file first, without script; keeps it when that is asked, and only what was looked at', async () => {
    const started = startApp()
    const looked = await send(started, Buffer.from(FILE))
    expect(looked.status).toBe(200)
    expect(looked.text).toContain('2 new, 0 here already or twice in the file, 1 not understood')
    expect(looked.text).toContain('file: not understood')
    expect(looked.text).toContain('This entry is not closed')
    expect(titles(started)).toEqual([])
    const mark = markIn(looked.text)
    const changed = await started.post('/sources/import', {
      document: `${FILE} `.replace('Fen', 'Moor'),
      looked: mark,
      keep: 'yes',
    })
    expect(changed.text).toContain('nothing is kept yet')
    expect(titles(started)).toEqual([])
    const kept = await started.post('/sources/import', { document: FILE, looked: mark, keep: 'yes' })
    expect(kept.headers.location).toBe('/sources?done=sources-kept')
    expect(titles(started)).toEqual(['Bands of the Fen', 'Counting tablets'])
    expect((await started.get('/sources/2')).text).toContain('tablets')
    // The same once more: everything is here already, and stays as it is.
    await started.post('/sources/import', { document: FILE, looked: mark, keep: 'yes' })
    expect(titles(started)).toHaveLength(2)
  })

  test('asks about what is here already: left, filled in, or added; entries can be left out by number', async () => {
    const started = startApp()
    const { db, post } = started
    const here = makeSource(db, {
      title: 'BANDS of the Fén',
      people: 'Oss, Rolf',
      year: '1987',
      publisher: '',
      notes: 'Mine.',
    })
    const looked = await post('/sources/import', { document: FILE })
    expect(looked.text).toContain('Here already, by its title and year: BANDS of the Fén')
    const mark = markIn(looked.text)
    const fields = { document: FILE, looked: mark, keep: 'yes' }
    expect((await post('/sources/import', { ...fields, leaveOut: 'two' })).status).toBe(422)
    await post('/sources/import', { ...fields, 'same-1': 'fill', leaveOut: '2-3' })
    const row = () => db.raw.prepare('select title, publisher, notes, version from source where id = ?').get(here)
    expect(row()).toEqual({ title: 'BANDS of the Fén', publisher: 'Fen Press', notes: 'Mine.', version: 2 })
    expect(titles(started)).toHaveLength(1)
    await post('/sources/import', { ...fields, 'same-1': 'add' })
    expect(titles(started)).toEqual(['BANDS of the Fén', 'Bands of the Fen', 'Counting tablets'])
  })

  test('reads a Latin-1 file, a byte order mark, RIS and CSL-JSON as they look', async () => {
    const started = startApp()
    const latin = await send(started, Buffer.from('@book{a, title = {B\xe4nder}}', 'latin1'))
    expect(latin.text).toContain('Bänder')
    expect(latin.text).toContain('Please look at the accents.')
    const marked = await send(started, Buffer.from('\uFEFFTY  - BOOK\r\nTI  - Bänder\r\nER  - \r\n'))
    expect(marked.text).toContain('Read as RIS')
    expect(marked.text).not.toContain('look at the accents')
    const csl = await send(started, Buffer.from('[{"type":"book","id":"a","title":"Bänder"}]'))
    expect(csl.text).toContain('Read as CSL-JSON')
    expect(csl.text).toContain('1 new')
  })

  test('with nothing, with nonsense, or with too much says so', async () => {
    const started = startApp()
    const empty = await started.post('/sources/import', {})
    expect([empty.status, empty.text.includes('Please choose a file, or paste')]).toEqual([422, true])
    const nonsense = await started.post('/sources/import', { document: 'once upon a time' })
    expect(nonsense.status).toBe(422)
    expect(nonsense.text).toContain('once upon a time')
    expect((await send(started, Buffer.alloc(3 * 1024 * 1024, 'a'))).status).toBe(413)
    const hostile = await started.post('/sources/import', { document: '@book{a, title={<script>alert(1)</script>}}' })
    expect(hostile.text).not.toContain('<script>alert')
  })
})

describe('GET /sources/export', () => {
  test.each([
    ['bibtex', 'sources.bib', '@book{oss1987'],
    ['ris', 'sources.ris', 'TY  - BOOK'],
    ['csl', 'sources.json', '"citation-key": "oss1987"'],
  ])('as %s gives a file', async (format, name, text) => {
    const { db, get } = startApp()
    makeSource(db)
    const file = await get(`/sources/export?format=${format}`)
      .buffer(true)
      .parse((res, done) => {
        const parts: Buffer[] = []
        res.on('data', (part: Buffer) => parts.push(part))
        res.on('end', () => done(null, Buffer.concat(parts).toString()))
      })
    expect(file.headers['content-disposition']).toContain(`filename=${name}`)
    expect(file.body).toContain(text)
  })
  test('as nothing known says what there is', async () => {
    expect((await startApp().get('/sources/export?format=doc')).status).toBe(400)
  })
})

test('decodeFile(bytes) goes by the mark, then by UTF-8, then by Windows-1252', () => {
  expect(decodeFile(Buffer.from('\uFEFFä\r\nb', 'utf16le'))).toEqual({ text: 'ä\nb', isGuessed: false })
  expect(decodeFile(Buffer.from([0xfe, 0xff, 0x00, 0xe4]))).toEqual({ text: 'ä', isGuessed: false })
  expect(decodeFile(Buffer.from('ä'))).toEqual({ text: 'ä', isGuessed: false })
  expect(decodeFile(Buffer.from([0x84, 0xe4, 0x93]))).toEqual({ text: '„ä“', isGuessed: true })
})
