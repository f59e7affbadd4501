import { describe, expect, test } from 'vitest'
import { startApp } from '../support/start.ts'

const SOURCE = { title: 'Bands of the Fen', people: 'Oss, R.', year: '1987', kind: 'book', isbn: '', doi: '', url: '' }

describe('POST /sources', () => {
  test('keeps the source and leads to its page', async () => {
    const { get, post } = startApp()
    const answer = await post('/sources', { ...SOURCE, notes: 'Plate 4 is *upside down*.' })
    expect(answer.status).toBe(303)
    expect(answer.headers.location).toBe('/sources/1?done=saved')
    const shown = await get('/sources/1')
    expect(shown.text).toContain('Oss, R. (1987). Bands of the Fen')
    expect(shown.text).toContain('<em>upside down</em>')
  })

  test('without a title shows the form again with what was typed', async () => {
    const { db, post } = startApp()
    const answer = await post('/sources', { ...SOURCE, title: '  ', notes: '"quoted" & <b>bold</b>' })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain('There is a problem')
    expect(answer.text).toContain('<title>Error: New source · Fellmark</title>')
    expect(answer.text).toContain('<h1>New source</h1>')
    expect(answer.text).toContain('value="Oss, R."')
    expect(answer.text).toContain('&quot;quoted&quot; &amp; &lt;b&gt;bold&lt;/b&gt;')
    expect(db.all(db.sql.selectFrom('source').selectAll())).toEqual([])
  })

  test('with a note over 64 KB refuses it and keeps its text in the form', async () => {
    const { post } = startApp()
    const notes = 'wool '.repeat(14_000)
    const answer = await post('/sources', { ...SOURCE, notes })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain('at most 64 KB')
    expect(answer.text).toContain(notes)
  })

  test.each([
    ['title', '\u200b\u00a0', 'Please give the source a title'],
    ['title', 'Bands\u2028of the Fen', 'line breaks and control characters'],
    ['people', 'Oss\u0085', 'line breaks and control characters'],
    ['doi', '11.1000/182', 'A DOI begins with 10.'],
    ['isbn', '978-0-306-40615-8', 'check digit of this ISBN does not fit: after the other digits it would be 7'],
    ['issn', '0317-8472', 'check digit of this ISSN'],
    ['accessedOn', 'last week', 'year-month-day'],
    ['url', 'javascript:alert(1)', 'http:// or https://'],
    ['kind', 'scroll', 'Please choose what kind'],
  ])('with %s "%s" says what is wrong beside the field', async (field, typed, sentence) => {
    const { post } = startApp()
    const answer = await post('/sources', { ...SOURCE, [field]: typed })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(sentence)
    expect(answer.text).toContain(`href="#f-${field}"`)
  })
})

describe('GET /sources/:id', () => {
  // A DOI of the form that publishers gave in the nineties (SICI), with marks that would end the path of an address.
  test('leads to the whole of a DOI', async () => {
    const { get, post } = startApp()
    await post('/sources', { ...SOURCE, doi: '10.1000/(SICI)1097-0000(199605)1:2<3::AID-X4>3.0.CO;2-#' })
    expect((await get('/sources/1')).text).toContain(
      'href="https://doi.org/10.1000/(SICI)1097-0000(199605)1:2%3C3::AID-X4%3E3.0.CO;2-%23"',
    )
  })

  test.each(['/sources/7', '/sources/0', '/sources/seven', '/sources/1e3'])('%s is not there', async (path) => {
    const answer = await startApp().get(path)
    expect(answer.status).toBe(404)
    expect(answer.text).toContain('There is no source at this address.')
  })
})

describe('POST /sources/:id', () => {
  test('changes the source', async () => {
    const { get, post } = startApp()
    await post('/sources', SOURCE)
    await post('/sources/1', { ...SOURCE, title: 'Bands of the Upper Fen' })
    expect((await get('/sources/1')).text).toContain('Bands of the Upper Fen')
  })

  test('for a source that is not there changes nothing', async () => {
    expect((await startApp().post('/sources/9', SOURCE)).status).toBe(404)
  })
})

describe('POST /sources/:id/delete', () => {
  test('deletes a source that nothing rests on', async () => {
    const { get, post } = startApp()
    await post('/sources', SOURCE)
    expect((await post('/sources/1/delete')).status).toBe(303)
    expect((await get('/sources/1')).status).toBe(404)
  })
})
