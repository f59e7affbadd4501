import { describe, expect, test } from 'vitest'
import { startApp } from '../support/start.ts'
import { makeDraft, makeOriginal, makePiece, STEP, STEP_TYPED } from './sample.ts'

const HOSTILE = `</script><img src=x onerror=alert(1)> "quoted" & 'single'`

describe('GET /drafts/new', () => {
  test('shows the form, with the original that the address names chosen', async () => {
    const { db, get } = startApp()
    const id = makeOriginal(db, 'Hem of the Long Reed')
    const answer = await get(`/drafts/new?original=${id}`)
    expect(answer.status).toBe(200)
    expect(answer.text).toContain(`<option value="${id}" selected>Hem of the Long Reed`)
    expect(answer.text).toContain('Nothing is drawn yet.')
  })
})

describe('POST /drafts', () => {
  test('keeps the draft as revision 1 and leads to its page', async () => {
    const { db, get, post } = startApp()
    const original = String(makeOriginal(db, 'Hem of the Long Reed'))
    const answer = await post('/drafts', { ...STEP_TYPED, original, notes: 'From a *photograph*.', note: 'First try.' })
    expect(answer.status).toBe(303)
    expect(answer.headers.location).toBe('/drafts/1?done=saved')
    const shown = await get('/drafts/1')
    expect(shown.text).toContain('<h1>Step for a hem</h1>')
    expect(shown.text).toContain('6 tablets, 12 picks in the repeat')
    expect(shown.text).toContain('Hem of the Long Reed')
    expect(shown.text).toContain('<em>photograph</em>')
    expect(shown.text).toContain('First try.')
  })

  test('with “Draw it” shows the face, the checks and every word, and keeps nothing', async () => {
    const { db, post } = startApp()
    const typed = { ...STEP_TYPED, title: HOSTILE, notes: 'Half a *note*', draw: 'yes' }
    const answer = await post('/drafts', typed)
    expect(answer.status).toBe(200)
    expect(answer.text).toContain('<svg xmlns="http://www.w3.org/2000/svg"')
    expect(answer.text).toContain('6 tablets, 12 picks.')
    expect(answer.text).toContain('Twist-neutral')
    expect(answer.text).toContain('Half a *note*')
    expect(answer.text).toContain('S m m w w from B\nmirror')
    expect(db.all(db.sql.selectFrom('draft').selectAll())).toEqual([])
  })

  test('with a title that looks like markup escapes it in the page and in the picture', async () => {
    const { get, post } = startApp()
    const drawn = await post('/drafts', { ...STEP_TYPED, title: HOSTILE, draw: 'yes' })
    await post('/drafts', { ...STEP_TYPED, title: HOSTILE })
    const [shown, face] = [await get('/drafts/1'), await get('/drafts/1/revisions/1/face.svg')]
    for (const text of [drawn.text, shown.text, String(face.body)]) {
      expect(text).not.toContain('<img src=x')
      expect(text).toContain('&lt;img src')
    }
  })

  test('with a short pick names pick and column, draws the picks before it, and keeps every word', async () => {
    const { db, post } = startApp()
    const turning = '6F x4\n1F 3B 1F # short\n6B'
    const answer = await post('/drafts', { ...STEP_TYPED, turning, notes: 'kept "as typed"' })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain('Line 2, character 9')
    expect(answer.text).toContain('Pick 5: 5 tablets found, 6 needed.')
    expect(answer.text).toContain('Drawn are the first 4 picks.')
    expect(answer.text).toContain('<svg xmlns="http://www.w3.org/2000/svg"')
    expect(answer.text).toContain(turning)
    expect(answer.text).toContain('kept &quot;as typed&quot;')
    expect(db.all(db.sql.selectFrom('draft').selectAll())).toEqual([])
  })

  test.each([
    ['title', '', 'Please give the draft a title.', '#f-title'],
    ['colours', 'm madder #9c3b2', 'A colour is # and six of 0-9 and a-f', '#f-colours'],
    ['weft', 'q', 'No colour has the key “q”.', '#f-weft'],
    ['threading', 'S m m x w', 'Hole C: no colour has the key “x”', '#f-threading'],
    ['turning', '6F\n6Q', '“6Q” cannot be read', '#f-turning'],
    ['original', '77', 'This original is not in the notebook any more.', '#f-original'],
  ])('with %s “%s” says what is wrong beside the field', async (field, typed, sentence, href) => {
    const { post } = startApp()
    const answer = await post('/drafts', { ...STEP_TYPED, [field]: typed })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(sentence)
    expect(answer.text).toContain(`href="${href}"`)
  })
})

describe('GET /drafts/:id', () => {
  test('shows the newest revision: pictures, counts, checks and turning', async () => {
    const { db, get } = startApp()
    makeDraft(db)
    const { text } = await get('/drafts/1')
    expect(text).toContain('alt="Woven face of Step for a hem, 6 tablets, 48 picks"')
    expect(text).toContain('Drawn at 1.0 mm a tablet and 0.9 mm a pick')
    expect(text).toMatch(/<dt>Warp ends<\/dt>\s*<dd class="number">24<\/dd>/)
    expect(text).toMatch(/<dt>Different picks<\/dt>\s*<dd class="number">4<\/dd>/)
    expect(text).toMatch(/1 to 4<\/th><td>6F<\/td>/)
    expect(text).toContain('href="/pieces/new?revision=1"')
  })

  test('takes other proportions from the address, and says what it cannot draw', async () => {
    const { db, get } = startApp()
    makeDraft(db)
    const wide = await get('/drafts/1?tabletWidthMm=2,5&pickHeightMm=1.2&lengthMm=144')
    expect(wide.text).toContain('Drawn at 2.5 mm a tablet and 1.2 mm a pick. 120 picks, 10 repeats')
    const refused = await get('/drafts/1?tabletWidthMm=wide')
    expect(refused.status).toBe(200)
    expect(refused.text).toContain('Please type a number')
    expect(refused.text).toContain('value="wide"')
  })

  test.each(['/drafts/7', '/drafts/0', '/drafts/seven', '/drafts/7/edit', '/drafts/7/details'])(
    '%s is not there',
    async (path) => {
      const answer = await startApp().get(path)
      expect(answer.status).toBe(404)
      expect(answer.text).toContain('There is no draft at this address.')
    },
  )
})

describe('POST /drafts/:id', () => {
  test('changes title, notes and original, and no revision', async () => {
    const { db, get, post } = startApp()
    makeDraft(db)
    const original = String(makeOriginal(db, 'Hem of the Long Reed'))
    const answer = await post('/drafts/1', { title: 'Step, narrow', notes: 'New', original })
    expect(answer.headers.location).toBe('/drafts/1?done=saved')
    const { text } = await get('/drafts/1')
    expect(text).toContain('<h1>Step, narrow</h1>')
    expect(text).toContain('Hem of the Long Reed')
    expect(db.all(db.sql.selectFrom('draft_revision').select('number'))).toEqual([{ number: 1 }])
  })

  test('without a title shows the form again with what was typed', async () => {
    const { db, post } = startApp()
    makeDraft(db)
    const answer = await post('/drafts/1', { title: ' ', notes: 'Not lost', original: '' })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain('Please give the draft a title.')
    expect(answer.text).toContain('Not lost')
  })

  test('for a draft that is not there changes nothing', async () => {
    expect((await startApp().post('/drafts/9', { title: 'x' })).status).toBe(404)
  })
})

describe('POST /drafts/:id/delete', () => {
  test('puts a draft in the bin with its revisions', async () => {
    const { db, get, post } = startApp()
    makeDraft(db)
    expect((await post('/drafts/1/delete')).headers.location).toBe('/drafts?undo=draft-1&done=deleted')
    expect((await get('/drafts/1')).status).toBe(404)
    expect((await get('/drafts/1/revisions/1')).status).toBe(404)
  })

  test('while pieces are woven from it refuses and names them', async () => {
    const { db, get, post } = startApp()
    const { revisionId } = makeDraft(db)
    makePiece(db, 'Trial <1>', revisionId)
    const answer = await post('/drafts/1/delete')
    expect(answer.status).toBe(409)
    expect(answer.text).toContain('“Trial &lt;1&gt;”')
    const shown = await get('/drafts/1')
    expect(shown.text).toContain('Trial &lt;1&gt;')
    expect(shown.text).not.toContain('/drafts/1/delete')
  })

  test('for a draft that is not there says so', async () => {
    expect((await startApp().post('/drafts/9/delete')).status).toBe(404)
  })
})

test('insertDraft(db, …) keeps the title of the document as the title of the draft', () => {
  const { db } = startApp()
  makeDraft(db)
  expect(db.first(db.sql.selectFrom('draft').select('title'))).toEqual({ title: STEP.title })
})
