import { expect, test } from 'vitest'
import { readDraft } from '../../shared/draft/document.ts'
import { EXAMPLE } from '../../server/infer/example.ts'
import { STEP } from '../draft-page/sample.ts'
import { makeOriginal } from '../support/make.ts'
import { startApp } from '../support/start.ts'

const { db, get, post, broken } = startApp()

const document = (html: string) => {
  const text = /<textarea name="document" hidden>\n([\s\S]*?)<\/textarea>/.exec(html)![1]!
  return text.replaceAll('&quot;', '"').replaceAll('&#x27;', "'").replaceAll('&amp;', '&')
}

test('GET /drafts/infer shows a blank form, and the example where it is asked for', async () => {
  const blank = await get('/drafts/infer')
  expect(blank.status).toBe(200)
  expect(blank.text).toContain('Try it with an example')
  const filled = await get('/drafts/infer?example=yes')
  expect(filled.text).toContain('Chevron, worked out')
  expect(filled.text).not.toContain('What was worked out')
})

test('POST /drafts/infer works out the example: one misread cell, and the draft can be kept', async () => {
  const original = makeOriginal(db, { name: 'Hem of a sleeve' })
  const found = await post('/drafts/infer', { ...EXAMPLE, original: String(original) })
  expect(found.status).toBe(200)
  expect(found.text).toContain('1 cell of 152 legible ones (of 160) shows another colour than was seen.')
  expect(found.text).toContain('All 8 of 8 legible slants lean as seen.'.replace('8 of 8', 'of 8'))
  const read = readDraft(JSON.parse(document(found.text)))
  expect(read.ok && read.draft.picks).toHaveLength(16)
  // An archive with such notes would not come in again.
  const bell = await post('/drafts/infer/keep', { document: document(found.text), notes: 'A bell\u0007' })
  expect([bell.status, bell.text]).toEqual([400, expect.stringContaining('control characters')])
  const kept = await post('/drafts/infer/keep', {
    ...{ document: document(found.text), notes: 'From the photograph.', original: String(original) },
  })
  expect(kept.status).toBe(303)
  const page = await get(new URL(kept.headers.location as string, 'http://x').pathname)
  for (const words of ['Chevron, worked out', 'From the photograph.', 'Hem of a sleeve'])
    expect(page.text).toContain(words)
})

test('POST /drafts/infer with faults shows the form again with every word and where the fault is', async () => {
  const typed = { ...EXAMPLE, observed: 'm w\nm', known: 'Q', longestFloat: 'long', weft: 'z', title: 'Mine <own>' }
  const again = await post('/drafts/infer', typed)
  expect(again.status).toBe(422)
  for (const words of ['Line 2, character 2', 'm w\nm', 'long', 'Mine &lt;own&gt;', 'No colour has the key “z”']) {
    expect(again.text).toContain(words)
  }
  const empty = await post('/drafts/infer', {})
  expect([empty.status, empty.text.includes('No colour found'), empty.text.includes('No pick found')]).toEqual([
    422,
    true,
    true,
  ])
  const many = await post('/drafts/infer', { ...EXAMPLE, known: '1: S' })
  expect([many.status, many.text.includes('1 tablet is described, but the observed face has 10.')]).toEqual([422, true])
  const never = await post('/drafts/infer', { ...EXAMPLE, longestFloat: '1' })
  expect([
    never.status,
    never.text.includes('no turning of 16 picks is twist-neutral and has no float over 1 pick'),
  ]).toEqual([422, true])
  const odd = await post('/drafts/infer', { ...EXAMPLE, observed: 'm\nm\nm', known: '' })
  expect([odd.status, odd.text.includes('No turning of 3 picks is twist-neutral')]).toEqual([422, true])
})

test('POST /drafts/infer with fill=yes only shows what another page sent', async () => {
  const shown = await post('/drafts/infer', { ...EXAMPLE, fill: 'yes' })
  expect([shown.status, shown.text.includes('What was worked out')]).toEqual([200, false])
})

test('POST /drafts/infer shows what the browser worked out, and works it out itself where that does not fit', async () => {
  const fields = { ...EXAMPLE, observed: 'm', known: '1: S m m m m from A', twistNeutral: '', longestFloat: '' }
  const draft = { ...STEP, tablets: [STEP.tablets[0]], picks: ['1F'] }
  const finding = {
    ...{ tablet: 1, mismatches: 0, reversals: 0, solutions: '77', threadingIsOpen: false },
    ...{ turnDiffers: [1], colourDiffers: [], decides: null },
  }
  const send = (answer: unknown) => post('/drafts/infer', { ...fields, answer: JSON.stringify(answer) })
  expect((await send({ draft, perTablet: [finding] })).text).toContain('77 ways')
  for (const answer of [
    'x',
    { draft, perTablet: [] },
    { draft: { ...draft, picks: ['1F', '1F'] }, perTablet: [finding] },
  ]) {
    expect((await send(answer)).text).toContain('2 ways')
  }
})

test('POST /drafts/infer/keep refuses what is no draft, and nothing broke', async () => {
  const refused = await post('/drafts/infer/keep', { document: '{"title":1}' })
  expect(refused.status).toBe(400)
  expect(broken).toEqual([])
})
