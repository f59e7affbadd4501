import { describe, expect, test } from 'vitest'
import { listJudgements } from '../../server/fidelity/queries.ts'
import { demoDb } from '../support/demo.ts'
import { makeObserved } from '../rights/things.ts'
import { readable } from '../support/html.ts'
import { makePiece } from '../support/make-piece.ts'
import {
  makeJudgement,
  makeOriginal,
  makePiece as makePieceRow,
  makeRevision,
  makeDraft,
  makeWeighting,
} from '../support/rows.ts'
import { startApp } from '../support/start.ts'

const TYPED = {
  ...{ spot: 'fibre-warp', known: 'Silk, by its sheen.', used: 'Fine worsted.', relation: 'substituted' },
  ...{ reasonKind: 'unobtainable', reason: 'no silk as fine', look: 'duller', size: '', hand: '', wear: '' },
  labelWords: 'Wool where the find has silk.',
}

function withPiece() {
  const started = startApp()
  return { ...started, pieceId: makePiece(started.db) }
}

describe('POST /pieces/:id/judgements', () => {
  test('keeps what was judged, and the page shows it with its reason', async () => {
    const { db, get, post, pieceId } = withPiece()
    const answer = await post(`/pieces/${pieceId}/judgements`, TYPED)
    expect(answer.headers.location).toBe(`/pieces/${pieceId}/fidelity?done=saved#fibre`)
    expect(listJudgements(db, pieceId)).toMatchObject([{ aspect: 'fibre', place: 'warp', relation: 'substituted' }])
    const { text } = await get(`/pieces/${pieceId}/fidelity`)
    for (const words of [
      'Silk, by its sheen.',
      'Fine worsted.',
      'it was not to be had: no silk as fine',
      'Wool where the find has silk.',
    ])
      expect(text).toContain(words)
  })

  test('asks why something else was taken, and keeps every word', async () => {
    const { post, pieceId } = withPiece()
    const answer = await post(`/pieces/${pieceId}/judgements`, { ...TYPED, reasonKind: '', reason: '' })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain('Please say why something else was taken.')
    expect(answer.text).toContain('Silk, by its sheen.')
  })

  test('asks what the piece has before it is called near', async () => {
    const { post, pieceId } = withPiece()
    const answer = await post(`/pieces/${pieceId}/judgements`, { ...TYPED, relation: 'near', used: ' ' })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain('Please say what the piece has')
  })

  test('takes an aspect of a piece once: a second window gets its words back', async () => {
    const { db, post, pieceId } = withPiece()
    await post(`/pieces/${pieceId}/judgements`, TYPED)
    const second = await post(`/pieces/${pieceId}/judgements`, { ...TYPED, known: 'Silk, analysed.' })
    expect(second.status).toBe(409)
    expect(second.text).toContain('Silk, analysed.')
    expect(listJudgements(db, pieceId)).toHaveLength(1)
  })

  test('refuses an aspect at a place where it is not judged', async () => {
    const { post, pieceId } = withPiece()
    expect((await post(`/pieces/${pieceId}/judgements`, { ...TYPED, spot: 'tools-weft' })).status).toBe(422)
  })
})

describe('POST /judgements/:id', () => {
  test('changes it, its aspect stays; and the bin gives it back', async () => {
    const { db, get, post, pieceId } = withPiece()
    const id = makeJudgement(db, { piece_id: pieceId })
    await post(`/judgements/${id}`, { ...TYPED, spot: 'tools-whole', version: '1' })
    expect(listJudgements(db, pieceId)).toMatchObject([{ aspect: 'fibre', relation: 'substituted' }])
    await post(`/judgements/${id}/delete`, {})
    expect(listJudgements(db, pieceId)).toEqual([])
    expect((await get('/bin')).text).toContain('Judgement of fibre')
    await post(`/bin/judgement/${id}/restore`, {})
    expect(listJudgements(db, pieceId)).toHaveLength(1)
  })
})

describe('GET /pieces/:id/fidelity', () => {
  test('gives a total between bounds, with the share that is open', async () => {
    const { db, get, pieceId } = withPiece()
    expect((await get(`/pieces/${pieceId}/fidelity`)).text).toContain('0 to 100 %')
    makeJudgement(db, { piece_id: pieceId, aspect: 'tools', place: 'whole', relation: 'same', used: 'bone tablets' })
    const { text } = await get(`/pieces/${pieceId}/fidelity`)
    expect(text).toContain('11 to 100 %')
    expect(text).toContain('89 %')
  })

  test('goes by weights of the maker’s own, by their name', async () => {
    const { db, get, pieceId } = withPiece()
    makeJudgement(db, { piece_id: pieceId, aspect: 'tools', place: 'whole', relation: 'same', used: 'bone tablets' })
    const zero = { fibre: 0, spinning: 0, dye: 0, density: 0, structure: 0, pattern: 0, dimensions: 0, finishing: 0 }
    const by = makeWeighting(db, { name: 'Tools alone', weights: JSON.stringify({ ...zero, tools: 5 }) })
    const { text } = await get(`/pieces/${pieceId}/fidelity?by=${by}`)
    expect(text).toContain('by “Tools alone”')
    expect(text).toContain('<strong class="number">100 %</strong>')
  })

  test('compares measured features, and proposes what they say', async () => {
    const { get } = startApp(demoDb())
    const { text } = await get('/pieces/2/fidelity')
    expect(text).toMatch(/Picks per cm<\/th><td class="number">0\.97\d*<\/td>/)
    expect(text).toContain('Length of a repeat')
  })

  test('lays the face of the draft beside what was read off the original, cell by cell', async () => {
    const { db, get } = startApp()
    const original = makeOriginal(db)
    const draft_id = makeDraft(db, { original_id: original })
    const document = JSON.stringify({
      title: 'Two',
      colours: { r: { name: 'red', hex: '#a03020' }, y: { name: 'yellow', hex: '#d8b030' } },
      weft: 'r',
      tablets: ['S', 'S'].map((threading) => ({ threading, holes: ['r', 'r', 'y', 'y'], start: 'A', part: 'pattern' })),
      picks: ['2F', '2F', '2F', '2F'],
    })
    const revision = makeRevision(db, { draft_id, document, tablets: 2, picks: 4 })
    const piece = makePieceRow(db, { original_id: original, draft_revision_id: revision })
    // Other keys, the same colours but for a shade; rows of the face of A A, B B, C C, D D are r r, r r, y y, y y.
    const colours = JSON.stringify({ m: { name: 'rot', hex: '#a23324' }, w: { name: 'gelb', hex: '#d9b234' } })
    makeObserved(db, { original_id: original, colours, cells: 'm m\nm m\nw w\nw m' })
    const { text } = await get(`/pieces/${piece}/fidelity`)
    expect(readable(text)).toContain('1 of 8 legible cells differ from Ladder, revision 1: 1.3e+2 per 1,000')
  })
})

describe('GET /fidelity', () => {
  test('ranks pieces by their bounds and says when the order hangs on the weights', async () => {
    const { db, get } = startApp()
    const [one, two] = [makePiece(db, { name: 'One' }), makePiece(db, { name: 'Two' })]
    for (const [piece_id, aspect] of [
      [one, 'tools'],
      [two, 'finishing'],
    ] as const) {
      const other = aspect === 'tools' ? 'finishing' : 'tools'
      makeJudgement(db, { piece_id, aspect, place: 'whole', relation: 'same' })
      makeJudgement(db, { piece_id, aspect: other, place: 'whole', relation: 'substituted' })
    }
    const zero = { fibre: 0, spinning: 0, dye: 0, density: 0, structure: 0, pattern: 0, dimensions: 0 }
    makeWeighting(db, { name: 'By tools', weights: JSON.stringify({ ...zero, tools: 3, finishing: 1 }) })
    makeWeighting(db, { name: 'By finish', weights: JSON.stringify({ ...zero, tools: 1, finishing: 3 }) })
    const { text } = await get(`/fidelity?piece=${one}&piece=${two}`)
    expect(text).toContain('One stands before Two by “By tools”, and after it by “By finish”.')
  })

  test('is 404 for a piece that is not there', async () => {
    const { get } = startApp()
    expect((await get('/fidelity?piece=9')).status).toBe(404)
  })
})

describe('POST /weightings', () => {
  const WEIGHTS = {
    ...{ name: 'Seen from a step away', fibreWeight: '5', spinningWeight: '5', dyeWeight: '20', densityWeight: '10' },
    ...{ structureWeight: '10', patternWeight: '40', dimensionsWeight: '10', toolsWeight: '0', finishingWeight: '0' },
    notes: '',
  }

  test('keeps weights under a name', async () => {
    const { get, post } = startApp()
    expect((await post('/weightings', WEIGHTS)).headers.location).toBe('/weightings/1?done=saved')
    expect((await get('/weightings/1')).text).toContain('40 %')
    expect((await get('/weightings')).text).toContain('pattern 40, dye and colour 20, density 10 and 4 more')
  })

  test.each([
    ['a weight above 100', { ...WEIGHTS, dyeWeight: '101' }, 'from 0 to 100'],
    [
      'all of them 0',
      Object.fromEntries(Object.entries(WEIGHTS).map(([key, value]) => [key, /^\d+$/.test(value) ? '0' : value])),
      'they are all 0',
    ],
    ['no name', { ...WEIGHTS, name: '' }, 'Please name these weights'],
  ])('refuses %s', async (_, typed, words) => {
    const { post } = startApp()
    const answer = await post('/weightings', typed)
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(words)
  })
})
