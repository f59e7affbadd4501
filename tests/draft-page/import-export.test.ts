import { describe, expect, test } from 'vitest'
import { documentText } from '../../shared/draft/document-text.ts'
import { startApp } from '../support/start.ts'
import { keepImported } from '../draft-import/keep.ts'
import { makeDraft, STEP, STEP_DOCUMENT } from './sample.ts'

const EXPORT = '/drafts/1/revisions/1/document.json'

describe('GET /drafts/:id/revisions/:number/document.json', () => {
  test('gives the document as a file, one line a pick', async () => {
    const { db, get } = startApp()
    makeDraft(db, { picks: ['3f 3F', '2F, 4B'] })
    const answer = await get(EXPORT)
    expect(answer.status).toBe(200)
    expect(answer.headers['content-type']).toBe('application/json; charset=utf-8')
    expect(answer.headers['content-disposition']).toBe('attachment; filename=draft-1-revision-1.json')
    expect(answer.text).toContain('\n    "6F",\n    "2F 4B"\n')
    expect(JSON.parse(answer.text)).toEqual({ ...STEP, picks: ['6F', '2F 4B'] })
  })

  test('of a revision that is not there says so', async () => {
    const { db, get } = startApp()
    makeDraft(db)
    for (const path of ['/drafts/1/revisions/2/document.json', '/drafts/2/revisions/1/document.json'])
      expect((await get(path)).status, path).toBe(404)
  })
})

describe('POST /drafts/import', () => {
  test('keeps what another notebook exported, byte for byte', async () => {
    const [from, to] = [startApp(), startApp()]
    makeDraft(from.db, { title: 'Tab "and" ünï — </script>', picks: ['4F 1I 1(2B)', '6B'] })
    const exported = (await from.get(EXPORT)).text
    const answer = await keepImported(to, { document: exported })
    expect(answer.status).toBe(303)
    expect(answer.headers.location).toBe('/drafts/1?done=saved')
    expect((await to.get(EXPORT)).text).toBe(exported)
  })

  test('takes a document with line ends of another system and defaults left out', async () => {
    const started = startApp()
    const { get } = started
    const tablets = STEP.tablets.map(({ threading, holes }) => ({ threading, holes }))
    const document = JSON.stringify({ ...STEP, tablets }, null, 1).replaceAll('\n', '\r\n')
    await keepImported(started, { document })
    const { tablets: kept } = JSON.parse((await get(EXPORT)).text) as typeof STEP
    expect(kept[5]).toEqual({ threading: 'Z', holes: ['m', 'm', 'm', 'm'], start: 'A', part: 'pattern' })
  })

  test.each([
    [{ ...STEP, maker: 'me' }, 'maker', 'This key is not part of a draft document.'],
    [{ ...STEP, picks: ['6F', '5F'] }, 'picks[1]', 'Pick 2: 5 tablets found, 6 needed.'],
    [{ ...STEP, weft: 'q' }, 'weft', 'No colour of the draft has the key “q”.'],
    [{ ...STEP, title: ' ' }, 'title', 'Please give the draft a title.'],
    [{ ...STEP, title: 'two\nlines' }, 'title', 'This must be one line, without control characters.'],
    [[], 'the whole of it', 'This must be an object.'],
  ])('of %j names the place and keeps the text', async (document, path, sentence) => {
    const { db, post } = startApp()
    const typed = JSON.stringify(document)
    const answer = await post('/drafts/import', { document: typed })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(`<code>${path}</code>`)
    expect(answer.text).toContain(sentence)
    expect(unescape(answer.text)).toContain(typed)
    expect(db.all(db.sql.selectFrom('draft').selectAll())).toEqual([])
  })

  test.each([
    ['', 'Please paste a draft, or choose its file.'],
    ['{"title": "x",}', 'This is not JSON'],
    ['<script>alert(1)</script>', 'This is not JSON'],
  ])('of %j says that it is no document and keeps the text', async (document, sentence) => {
    const { post } = startApp()
    const answer = await post('/drafts/import', { document })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(sentence)
    expect(answer.text).not.toContain('<script>alert')
    expect(unescape(answer.text)).toContain(`${document}</textarea>`)
  })
})

test('GET /drafts/import shows an empty field', async () => {
  const answer = await startApp().get('/drafts/import')
  expect(answer.status).toBe(200)
  expect(answer.text).toContain('name="document"')
})

test('documentText(draft) is the same for drafts that say the same, and plain JSON', () => {
  const other = {
    ...STEP,
    colours: { w: STEP.colours.w!, m: STEP.colours.m! },
    picks: STEP.picks.map((pick) => `${pick} `),
  }
  expect(documentText(other)).toBe(STEP_DOCUMENT)
  expect(JSON.parse(STEP_DOCUMENT)).toEqual(STEP)
})

/** What Handlebars escapes, back to what was typed. */
function unescape(html: string): string {
  const named: Record<string, string> = { '&quot;': '"', '&#x3D;': '=', '&lt;': '<', '&gt;': '>', '&#x27;': "'" }
  return html.replace(/&(quot|#x3D|lt|gt|#x27);/g, (entity) => named[entity]!).replaceAll('&amp;', '&')
}
