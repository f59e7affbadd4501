import sharp from 'sharp'
import { describe, expect, test } from 'vitest'
import { findNewestRevision } from '../../server/draft/revision-queries.ts'
import { keepImported } from '../draft-import/keep.ts'
import { makeDraft, STEP, STEP_DOCUMENT } from '../draft-page/sample.ts'
import { startApp } from '../support/start.ts'

const BASE = '/drafts/1/revisions/1'

describe('GET /drafts/:id/revisions/:number/…', () => {
  test.each(['document.json', 'draft.txt', 'turns.csv'])('%s comes back by import as the same draft', async (name) => {
    const [from, to] = [startApp(), startApp()]
    const title = '=SUM(1) " ; ünï'
    makeDraft(from.db, { title, colours: { m: { name: '@madder, red', hex: '#9c3b2e' }, w: STEP.colours.w! } })
    const file = await from.get(`${BASE}/${name}`)
    expect(file.headers['content-disposition']).toContain('attachment; filename=draft-1-revision-1')
    await keepImported(to, { document: file.text })
    const [one, other] = [findNewestRevision(from.db, 1)!, findNewestRevision(to.db, 1)!]
    expect(other.document).toBe(one.document)
  })

  test('turns.csv holds no cell that a spreadsheet would take for a formula', async () => {
    const { db, get } = startApp()
    makeDraft(db, { title: ' =1+1', colours: { m: { name: '-madder', hex: '#9c3b2e' }, w: STEP.colours.w! } })
    const { text } = await get(`${BASE}/turns.csv`)
    const cells = text.replace(/^\ufeff/, '').split(/[,\r\n]+/)
    expect(cells).toContain("' =1+1")
    expect(cells).toContain("'-madder")
    expect(cells.filter((cell) => /^"?\s*[=+\-@]/.test(cell))).toEqual([])
  })

  test('face.csv and reverse.csv hold what shows; the first pick of STEP is all madder', async () => {
    const { db, get } = startApp()
    makeDraft(db)
    const face = (await get(`${BASE}/face.csv`)).text.split('\r\n')
    expect(face.slice(2, 5)).toEqual(['pick,1,2,3,4,5,6', '1,m,m,m,m,m,m', '2,m,m,w,w,m,m'])
    const reverse = (await get(`${BASE}/reverse.csv`)).text.split('\r\n')
    expect(reverse.slice(3, 4)).toEqual(['1,m,w,w,w,w,m'])
  })

  test('face.png is as large as was asked, with its resolution in it, and shows the colours of the draft', async () => {
    const { db, get } = startApp()
    makeDraft(db, { tablets: STEP.tablets.map((tablet) => ({ ...tablet, holes: ['m', 'm', 'm', 'm'] })) })
    const query = 'tabletWidthMm=2&pickHeightMm=2.54&lengthMm=25.4&dpi=200&lie=across'
    const { status, headers, body } = await get(`${BASE}/face.png?${query}`)
    expect(status).toBe(200)
    expect(headers['content-type']).toBe('image/png')
    const png = body as Buffer
    // 25.4 mm are one inch: 200 pixels. Across: six tablets of 2 mm and two loops of 0.44 mm, 12.88 mm, 101 pixels.
    const { width, height, density } = await sharp(png).metadata()
    expect({ width, height, density }).toEqual({ width: 200, height: 101, density: 200 })
    // pHYs, of the PNG specification (W3C, third edition, 11.3.4.3): pixels a metre across and up, then 1 for the metre.
    const at = png.indexOf('pHYs')
    expect([png.readUInt32BE(at + 4), png.readUInt32BE(at + 8), png[at + 12]]).toEqual([7874, 7874, 1])
    const { dominant } = await sharp(png).stats()
    expect(dominant.r).toBeGreaterThan(dominant.b + 60)
  })

  test.each([
    ['dpi=2400&lengthMm=5000', 'million are drawn'],
    ['dpi=10', 'whole number from 25 to 2400'],
    ['dpi=300&tabletWidthMm=x', 'Please type a number'],
  ])('face.png?%s is refused, on the page with every word and a sentence beside the field', async (query, said) => {
    const { db, get } = startApp()
    makeDraft(db)
    expect((await get(`${BASE}/face.png?${query}`)).status).toBe(400)
    const shown = await get(`${BASE}/export?${query}`)
    expect(shown.status).toBe(422)
    expect(shown.text).toContain(said)
    for (const [name, value] of new URLSearchParams(query))
      expect(shown.text).toContain(`name="${name}" type="text" value="${value}"`)
  })

  test('export offers every file, and each of its addresses answers', async () => {
    const { db, get } = startApp()
    makeDraft(db)
    const { status, text } = await get(`${BASE}/export?dpi=100&lie=up`)
    expect(status).toBe(200)
    const paths = [...text.matchAll(/href="([^"]+)" download/g)].map(([, path]) =>
      path!.replaceAll(/&amp;|&#x3D;/g, (one) => (one === '&amp;' ? '&' : '=')),
    )
    expect(paths).toHaveLength(9)
    for (const path of paths) expect((await get(path)).status, path).toBe(200)
    expect((await get(`${BASE}/document.json`)).text).toBe(STEP_DOCUMENT)
  })

  test('of a repeat of millions of turns refuses what is written cell by cell; pictures show its beginning', async () => {
    const { db, get } = startApp()
    makeDraft(db, {
      tablets: Array.from({ length: 100 }, () => STEP.tablets[0]!),
      picks: Array.from({ length: 10_001 }, () => '100F'),
    })
    for (const name of ['draft.txt', 'turns.csv', 'face.csv', 'reverse.csv']) {
      const { status, text } = await get(`${BASE}/${name}`)
      expect(status, name).toBe(400)
      expect(text).toContain('1000100 turns are more than is written in one go; at most 1000000 are.')
    }
    expect((await get(`${BASE}/face.png?lengthMm=20&dpi=50`)).status).toBe(200)
  })

  test('of a revision that is not there is 404', async () => {
    const { db, get } = startApp()
    makeDraft(db)
    for (const name of ['export', 'draft.txt', 'turns.csv', 'face.csv', 'reverse.csv', 'face.png', 'reverse.png'])
      expect((await get(`/drafts/1/revisions/2/${name}`)).status, name).toBe(404)
  })
})
