import { describe, expect, test } from 'vitest'
import { startApp } from '../support/start.ts'
import { makeDraft, STEP } from './sample.ts'

const KINDS = ['face', 'reverse', 'threading', 'twist']
const svgOf = (answer: { body: unknown }) => String(answer.body)

describe('GET /drafts/:id/revisions/:number/KIND.svg', () => {
  test.each(KINDS)('%s is one SVG with its own content policy', async (kind) => {
    const { db, get, broken } = startApp()
    makeDraft(db)
    const answer = await get(`/drafts/1/revisions/1/${kind}.svg`)
    expect(broken).toEqual([])
    expect(answer.status).toBe(200)
    expect(answer.headers['content-type']).toBe('image/svg+xml; charset=utf-8')
    expect(answer.headers['content-security-policy']).toBe("default-src 'none'; style-src 'unsafe-inline'; sandbox")
    expect(answer.headers['x-content-type-options']).toBe('nosniff')
    expect(svgOf(answer)).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg"[^>]*>.*<\/svg>$/s)
    expect(svgOf(answer)).toContain('<title>')
    expect(svgOf(answer)).toContain('Step for a hem')
  })

  test.each(KINDS)('%s escapes a title that looks like markup', async (kind) => {
    const { db, get } = startApp()
    makeDraft(db, { title: `</title></svg><script>alert('1')</script>&"` })
    const svg = svgOf(await get(`/drafts/1/revisions/1/${kind}.svg`))
    expect(svg).not.toContain('<script')
    expect(svg).toContain('&lt;script&gt;')
  })

  test('face has the size asked for in mm, upright or across', async () => {
    const { db, get } = startApp()
    makeDraft(db)
    const size = 'tabletWidthMm=2&pickHeightMm=1.5&lengthMm=90'
    expect(svgOf(await get(`/drafts/1/revisions/1/face.svg?${size}`))).toMatch(/width="12\.\d+mm" height="90mm"/)
    const across = svgOf(await get(`/drafts/1/revisions/1/face.svg?${size}&lie=across`))
    expect(across).toMatch(/width="90mm" height="12\.\d+mm"/)
  })

  test('may be kept for ever only under the address that the page gives', async () => {
    const { db, get } = startApp()
    makeDraft(db)
    const src = /src="([^"]*\/face\.svg[^"]*)"/.exec((await get('/drafts/1')).text)![1]!
    const kept = await get(src.replaceAll('&amp;', '&').replaceAll('&#x3D;', '='))
    expect(kept.headers['cache-control']).toBe('private, max-age=31536000, immutable')
    const asked = await get('/drafts/1/revisions/1/face.svg')
    expect(asked.headers['cache-control']).toBe('private, no-cache')
    expect(asked.headers.etag).toBeTruthy()
  })

  test('of another draft has another address', async () => {
    const [one, two] = [startApp(), startApp()]
    makeDraft(one.db)
    makeDraft(two.db, { weft: 'w' })
    const version = async ({ get }: typeof one) => /face\.svg[^"]*v&#x3D;(\w+)/.exec((await get('/drafts/1')).text)![1]
    expect(await version(one)).not.toBe(await version(two))
  })

  test.each([
    'tabletWidthMm=0',
    'tabletWidthMm=-1',
    'pickHeightMm=x',
    'lengthMm=1e9',
    'lengthMm=999999',
    'lengthMm=NaN',
  ])('with %s is refused', async (query) => {
    const { db, get, broken } = startApp()
    makeDraft(db)
    const answer = await get(`/drafts/1/revisions/1/face.svg?${query}`)
    expect(answer.status).toBe(400)
    expect(broken).toEqual([])
  })

  test.each(['/drafts/9/revisions/1/face.svg', '/drafts/1/revisions/2/twist.svg', '/drafts/1/revisions/1/other.svg'])(
    '%s is not there',
    async (path) => {
      const { db, get } = startApp()
      makeDraft(db)
      expect((await get(path)).status).toBe(404)
    },
  )

  test('of the largest draft stays small, and the page says what is left out', { timeout: 60_000 }, async () => {
    const { db, get } = startApp()
    const tablet = STEP.tablets[1]!
    const picks = Array.from({ length: 20_000 }, (_, at) => (at % 7 < 3 ? '200F 200B' : '133B 267F'))
    makeDraft(db, { tablets: Array.from({ length: 400 }, () => tablet), picks })
    for (const kind of KINDS) {
      const svg = svgOf(await get(`/drafts/1/revisions/1/${kind}.svg`))
      expect(svg.length, kind).toBeLessThan(4_000_000)
    }
    const { text } = await get('/drafts/1')
    expect(text).toContain('The first 300 picks are drawn; more would make the picture too heavy.')
    expect(text).toContain('further picks stand in the document only.')
  })
})
