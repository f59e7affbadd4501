import { describe, expect, test } from 'vitest'
import { makeSitting } from '../support/make-piece.ts'
import { makeDraft, makePiece, makeRevision } from '../support/rows.ts'
import { startApp } from '../support/start.ts'
import { takeSteps, wovenFrom } from './steps.ts'

/** A draft of four picks, the second unlike the others. */
const DOCUMENT = JSON.stringify({
  title: 'Ladder',
  colours: { m: { name: 'madder', hex: '#9c3b2e' } },
  weft: 'm',
  tablets: [1, 2].map(() => ({ threading: 'S', holes: ['m', 'm', 'm', 'm'], start: 'A', part: 'pattern' })),
  picks: ['2F', '1F 1B', '2F', '2F'],
})

function withBand() {
  const started = startApp()
  const { db } = started
  // Handlebars writes an equals sign as a number.
  const get = async (path: string) => {
    const { text } = await started.get(path)
    return { text: text.replaceAll('&#x3D;', '=') }
  }
  const revision = makeRevision(db, { draft_id: makeDraft(db), document: DOCUMENT, tablets: 2, picks: 4 })
  const pieceId = makePiece(db, { name: 'Ladder band', maker: 'Runa', draft_revision_id: revision })
  return { ...started, get, pieceId, revision }
}

describe('GET /pieces/:id/pace', () => {
  test('says what is missing where nothing is known', async () => {
    const { get, pieceId } = withBand()
    const { text } = await get(`/pieces/${pieceId}/pace`)
    expect(text).toContain('Nothing can be said of the pace yet')
    expect(text).toContain('A learning curve needs 4 repeats followed by steps')
    expect(text).not.toContain('<svg class="chart"')
  })

  test('of sittings gives the curve over the sittings, drawn, with the table of its figures', async () => {
    const { db, get, pieceId } = withBand()
    for (const [at, minutes] of [100, 80, 70, 64].entries())
      makeSitting(db, pieceId, { day: `2026-11-0${at + 1}`, minutes, repeats: 1 })
    const { text } = await get(`/pieces/${pieceId}/pace`)
    expect(text).toMatch(
      /a repeat takes 80 % of the time it took \(95 % interval \d\d to \d\d %, n = 4 sittings\)\. The work got faster\./,
    )
    expect(text).toContain('<svg class="chart"')
    expect(text.match(/class="chart-point"/g)).toHaveLength(4)
    expect(text).toMatch(/<th scope="row">1<\/th><td class="number">100\.0<\/td>/)
    expect(text).toContain('median of 4 sittings')
  })

  test('of steps takes one point a repeat, the slow picks and what went wrong, and no step that was left out', async () => {
    const { db, get, post, pieceId } = withBand()
    // The second pick of four takes 40 s, the others 20 s; five repeats, and a slip at the end.
    const start = Date.parse('2026-11-20T09:00:00Z')
    const told = Array.from({ length: 20 }, (_, at) => {
      const seconds = Math.floor((at + 3) / 4) * 40 + (at - Math.floor((at + 3) / 4)) * 20
      return [new Date(start + seconds * 1000).toISOString(), 'woven'] as const
    })
    takeSteps(db, pieceId, [...told, [new Date(start + 510_000).toISOString(), 'slip']])
    takeSteps(db, pieceId, wovenFrom('2026-11-21T09:00:00Z', '2026-11-21T09:03:00Z', 1), { place: 20 })
    const shown = (await get(`/pieces/${pieceId}/hours`)).text
    const keys = [...shown.matchAll(/name="key" value="([^"]*)"/g)].map(([, key = '']) => key)
    await post(`/pieces/${pieceId}/hours/leave-out`, { key: keys[1] ?? '' })
    const { text } = await get(`/pieces/${pieceId}/pace`)
    expect(text).toContain('median of 5 repeats followed by steps; 1 pick after a break')
    expect(text).toMatch(/<th scope="row">2<\/th><td class="figures">1F 1B<\/td><td class="number">40\.0<\/td>/)
    expect(text).toMatch(/<th scope="row">1, 3, 4<\/th><td class="figures">2F<\/td><td class="number">20\.0<\/td>/)
    expect(text).toMatch(
      /<th scope="row">4<\/th><td class="number">1 \(20 in 100\)<\/td><td class="number">0<\/td><td class="number">5</,
    )
    expect(text).toContain('Nothing is said before there are 4 sittings of 30 timed picks each.')
    expect(text).toContain('n = 5 repeats')
  })

  test.each(['/pieces/9/pace', '/pieces/x/pace'])('%s is not there', async (path) => {
    expect((await startApp().get(path)).status).toBe(404)
  })
})

describe('GET /pace', () => {
  test('claims nothing on four pieces, and says the trend of five with its interval', async () => {
    const { db, get, revision } = withBand()
    for (const at of [1, 2, 3, 4]) {
      const id = makePiece(db, { name: `Band ${at}`, maker: 'Runa', draft_revision_id: revision })
      makeSitting(db, id, { minutes: 10 * at, picks: 60 })
    }
    expect((await get('/pace')).text).toContain('Nothing is claimed on fewer than 5 pieces; n = 4 pieces.')
    const wider = JSON.stringify({
      ...(JSON.parse(DOCUMENT) as object),
      tablets: Array.from({ length: 6 }, () => ({ threading: 'Z', holes: ['m', null, 'm', null] })),
      picks: ['3F 3B', '6F'],
    })
    const other = makeRevision(db, { draft_id: makeDraft(db), document: wider, tablets: 6, picks: 2 })
    const id = makePiece(db, { name: 'Wide band', maker: 'Runa', draft_revision_id: other })
    makeSitting(db, id, { minutes: 50, picks: 60 })
    const { text } = await get('/pace')
    expect(text).toMatch(/with each further tablet, \+\S+ % \(95 % interval -\S+ % to \+\S+ %, n = 5 pieces\)/)
    expect(text).toContain(`href="/pieces/${id}/pace"`)
    expect(text).toContain('No piece says this of itself.')
  })

  test('shows the pieces of one maker at a time', async () => {
    const { db, get, pieceId, revision } = withBand()
    makeSitting(db, pieceId, { minutes: 10, picks: 60 })
    const id = makePiece(db, { name: 'Tove’s band', maker: 'Tove & <b>', draft_revision_id: revision })
    makeSitting(db, id, { minutes: 10, picks: 60 })
    const { text } = await get(`/pace?maker=${encodeURIComponent('Tove & <b>')}`)
    expect(text).toContain('Tove’s band')
    expect(text).not.toContain('Ladder band')
    expect(text).not.toContain('<b>')
  })
})
