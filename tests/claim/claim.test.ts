import { describe, expect, test } from 'vitest'
import { findClaim, listClaims } from '../../server/claim/queries.ts'
import { makePiece } from '../support/make-piece.ts'
import { makeClaim, makeOriginal, makeSource } from '../support/make.ts'
import { readable } from '../support/html.ts'
import { startApp } from '../support/start.ts'

const WIDTH = { feature: 'width', kind: 'value', value: '13.0', unit: 'mm', state: 'asPreserved', basis: 'read' }

/** The program with one original, one piece and one source, each number 1. */
function start() {
  const started = startApp()
  const subject = { originalId: makeOriginal(started.db) }
  const piece = { pieceId: makePiece(started.db) }
  makeSource(started.db)
  return { ...started, subject, piece }
}

describe('GET /originals/:id/claims/new', () => {
  test('without a feature lets one choose among all of them', async () => {
    const text = readable((await start().get('/originals/1/claims/new')).text)
    expect(text).toContain('Which feature of Fen band?')
    expect(text).toContain('href="/originals/1/claims/new?feature=warpTwistAngle"')
  })

  test('offers the units of the feature, and the cautions of handling an original', async () => {
    const { text } = await start().get('/originals/1/claims/new?feature=picksPerCm')
    expect(text).toContain('<option value="per10Cm">per 10 cm</option>')
    expect(text).not.toContain('value="mm"')
    expect(text).toContain('the holder’s rules come first')
    expect(text).not.toContain('safety data sheet')
  })

  test('says at the dye that natural is not safe', async () => {
    const { text } = await start().get('/originals/1/claims/new?feature=dye')
    expect(text).toContain('“Natural” is not “safe”')
  })

  test('on a piece starts with readings of today, off tension', async () => {
    const { text } = await start().get('/pieces/1/claims/new?feature=width')
    expect(text.indexOf('f-kind-readings')).toBeLessThan(text.indexOf('f-kind-value'))
    expect(text).toContain('value="readings" checked')
    expect(text).toContain('value="2026-11-24"')
    expect(text).toContain('<option value="offTension" selected>')
    expect(text).not.toContain('the holder’s rules')
  })

  test.each([
    ['/originals/9/claims/new?feature=width', 'There is no original'],
    ['/originals/nine/claims/new?feature=width', 'There is no original'],
    ['/pieces/9/claims/new?feature=width', 'There is no piece'],
    ['/originals/1/claims/new?feature=smell', 'There is no feature'],
  ])('%s is not there', async (path, sentence) => {
    const answer = await start().get(path)
    expect(answer.status).toBe(404)
    expect(answer.text).toContain(sentence)
  })
})

describe('POST /originals/:id/claims', () => {
  test('keeps the claim and shows its value with n, u, state, basis and source', async () => {
    const { get, post } = start()
    const answer = await post('/originals/1/claims', {
      ...WIDTH,
      n: '10',
      u: '0.2',
      source: '1',
      locator: 'p. 14, fig. 3',
    })
    expect(answer.status).toBe(303)
    expect(answer.headers.location).toBe('/originals/1?done=saved#claim-1')
    const text = readable((await get('/originals/1')).text)
    expect(text).toContain('id="claim-1"')
    for (const shown of ['13.0 mm', 'n = 10', 'u = 0.2 mm', 'as preserved, read in a publication', 'p. 14, fig. 3'])
      expect(text).toContain(shown)
    expect(text).toContain('<a href="/sources/1">Oss, R. 1987</a>')
    expect(text).toContain('Working value')
  })

  test('adds a source that was only named, with the claim', async () => {
    const { db, get, post } = start()
    await post('/originals/1/claims', { ...WIDTH, newSource: 'Letter of the keeper' })
    expect(listClaims(db, { originalId: 1 })[0]?.source).toMatchObject({ id: 2, title: 'Letter of the keeper' })
    expect((await get('/sources/2')).text).toContain('Letter of the keeper')
  })

  test('shows mean, n, s and u of readings, and the readings as typed', async () => {
    const { get, post } = start()
    const readings = { kind: 'readings', value: '', readings: '13,5 13\n14', resolution: '1' }
    await post('/originals/1/claims', { ...WIDTH, ...readings })
    const text = readable((await get('/originals/1')).text)
    expect(text).toContain('n = 3')
    expect(text).toContain('type A, from the scatter')
    expect(text).toContain('13,5 13\n14')
  })

  test('shows a blank in words of its own look', async () => {
    const { get, post } = start()
    await post('/originals/1/claims', { ...WIDTH, kind: 'blank', value: '', blank: 'notPublished' })
    expect((await get('/originals/1')).text).toContain('<p class="claim-figure look-blank">not published</p>')
  })

  test('with a value and a blank shows the form again with everything typed', async () => {
    const { db, post } = start()
    const typed = { ...WIDTH, blank: 'notAnalysed', readings: '13, 14', reason: 'By "eye" & <ruler>' }
    const answer = await post('/originals/1/claims', typed)
    expect(answer.status).toBe(422)
    expect(answer.text).toContain('You chose “One value”, but this is filled in too.')
    expect(answer.text).toContain('href="#f-blank"')
    expect(answer.text).toContain('value="13.0"')
    expect(answer.text).toContain('\n13, 14</textarea>')
    expect(answer.text).toContain('By &quot;eye&quot; &amp; &lt;ruler&gt;')
    expect(answer.text).toContain('<option value="notAnalysed" selected>')
    expect(listClaims(db, { originalId: 1 })).toEqual([])
  })

  test('with readings that cannot be read says where', async () => {
    const answer = await start().post('/originals/1/claims', {
      ...WIDTH,
      kind: 'readings',
      value: '',
      readings: '13\n14x',
    })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain('Line 2, column 1, “14x”')
  })

  test.each([
    ['/originals/9/claims', {}],
    ['/originals/one/claims', {}],
    ['/pieces/9/claims', {}],
    ['/originals/1/claims', { feature: 'smell' }],
  ])('%s with %o is not there', async (path, changed) => {
    expect((await start().post(path, { ...WIDTH, ...changed })).status).toBe(404)
  })
})

describe('POST /pieces/:id/claims', () => {
  test('keeps the claim about the piece', async () => {
    const { db, post } = start()
    const answer = await post('/pieces/1/claims', { ...WIDTH, state: 'offTension', basis: 'seen' })
    expect(answer.headers.location).toBe('/pieces/1?done=saved#claim-1')
    expect(listClaims(db, { pieceId: 1 })).toHaveLength(1)
    expect(listClaims(db, { originalId: 1 })).toEqual([])
  })
})

describe('GET /claims/:id', () => {
  test('shows one claim in full', async () => {
    const { db, get, subject } = start()
    makeClaim(db, subject, { reason: 'Measured at the fold.', basis: 'seen', claimedBy: 'the keeper' })
    const { text } = await get('/claims/1')
    for (const shown of ['13.0 mm', 'Measured at the fold.', 'the keeper', 'the holder’s rules'])
      expect(text).toContain(shown)
    expect(text).toContain('href="/originals/1#claim-1"')
  })

  test.each(['/claims/9', '/claims/x', '/claims/9/correct'])('%s is not there', async (path) => {
    expect((await start().get(path)).status).toBe(404)
  })
})

describe('POST /claims/:id/correct', () => {
  test('makes a claim of its own beside the old one, with the relation and the reason', async () => {
    const { db, get, post, subject } = start()
    makeClaim(db, subject)
    const form = await get('/claims/1/correct')
    expect(form.text).toContain('value="13.0"')
    expect(form.text).toContain('value="yes" checked')
    const typed = { ...WIDTH, value: '14.3', basis: 'inferred', reason: 'Shrunk by a tenth.', working: 'yes' }
    expect((await post('/claims/1/correct', typed)).headers.location).toBe('/originals/1?done=saved#claim-2')
    expect(findClaim(db, 1)).toMatchObject({ value: '13.0', isWorking: false })
    expect(findClaim(db, 2)).toMatchObject({ value: '14.3', correctsId: 1, isWorking: true })
    const { text } = await get('/originals/1')
    expect(text).toContain('Corrects: <a href="/claims/1">13.0 mm as preserved</a>, because: Shrunk by a tenth.')
    expect(text).toContain('Corrected: <a href="/claims/2">14.3 mm as preserved</a>')
  })

  test('without a reason shows the form again with what was typed', async () => {
    const { db, post, subject } = start()
    makeClaim(db, subject)
    const answer = await post('/claims/1/correct', { ...WIDTH, value: '14.3' })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain('Please say why it is corrected')
    expect(answer.text).toContain('value="14.3"')
    expect(answer.text).toContain('action="/claims/1/correct"')
    expect(listClaims(db, subject)).toHaveLength(1)
  })

  test('of a claim that is not there, or withdrawn, is refused', async () => {
    const { db, post, subject } = start()
    makeClaim(db, subject)
    await post('/claims/1/withdraw', { withdrawReason: 'Misread.' })
    expect((await post('/claims/1/correct', { ...WIDTH, reason: 'x' })).status).toBe(409)
    expect((await post('/claims/9/correct', WIDTH)).status).toBe(404)
  })
})

describe('POST /claims/:id/working', () => {
  test('makes it the working claim and shows why', async () => {
    const { db, get, post, subject } = start()
    makeClaim(db, subject)
    makeClaim(db, subject, { value: '14' })
    const answer = await post('/claims/2/working', { workingReason: 'Measured on the object.' })
    expect(answer.headers.location).toBe('/originals/1?done=working#claim-2')
    const { text } = await get('/originals/1')
    expect(text).toContain('Working value because: Measured on the object.')
    expect(text.match(/Working value</g)).toHaveLength(1)
    expect(text.indexOf('id="claim-2"')).toBeLessThan(text.indexOf('id="claim-1"'))
  })

  test('with too long a reason shows it again', async () => {
    const { db, post, subject } = start()
    makeClaim(db, subject)
    const workingReason = 'because '.repeat(300)
    const answer = await post('/claims/1/working', { workingReason })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(workingReason.trim())
  })

  test.each(['/claims/9/working', '/claims/nine/working'])('%s is not there', async (path) => {
    expect((await start().post(path)).status).toBe(404)
  })
})

describe('POST /claims/:id/withdraw', () => {
  test('keeps it folded away with its reason, and it is not the working one any more', async () => {
    const { db, get, post, subject } = start()
    makeClaim(db, subject)
    makeClaim(db, subject, { value: '14' })
    const answer = await post('/claims/1/withdraw', { withdrawReason: 'A misprint.' })
    expect(answer.headers.location).toBe('/originals/1?done=withdrawn#claims')
    const { text } = await get('/originals/1')
    expect(text).toContain('Withdrawn 2026-11-24: A misprint.')
    expect(text.indexOf('Withdrawn claims')).toBeLessThan(text.indexOf('id="claim-1"'))
    expect(text).toContain('None of these is the working value yet.')
    expect(text).not.toContain('is-working')
  })

  test('without a reason shows the page again', async () => {
    const { db, post, subject } = start()
    makeClaim(db, subject)
    const answer = await post('/claims/1/withdraw', { withdrawReason: '  ' })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain('Please say why; the claim stays on record with it.')
    expect(findClaim(db, 1)?.withdrawnOn).toBeNull()
  })

  test('twice is refused, and of none is not there', async () => {
    const { db, post, subject } = start()
    makeClaim(db, subject)
    await post('/claims/1/withdraw', { withdrawReason: 'A misprint.' })
    expect((await post('/claims/1/withdraw', { withdrawReason: 'Again.' })).status).toBe(409)
    expect((await post('/claims/9/withdraw', { withdrawReason: 'x' })).status).toBe(404)
  })
})
