import { describe, expect, test } from 'vitest'
import type { Draft } from '../../shared/draft/draft.ts'
import { insertDraft } from '../../server/draft/queries.ts'
import type { Db } from '../../server/db/open.ts'
import { makeClaim, makeOriginal } from '../support/make.ts'
import { makePiece, makeSitting } from '../support/make-piece.ts'
import { startApp } from '../support/start.ts'

const AT = '2026-11-24T12:00:00.000Z'

// Common practice, no source: 21 tablets of four threads are 84 ends.
const DRAFT: Draft = {
  title: 'Plain rows',
  colours: { m: { name: 'madder', hex: '#9c3b2e' } },
  weft: 'm',
  tablets: Array.from({ length: 21 }, () => ({
    threading: 'S' as const,
    holes: ['m', 'm', 'm', 'm'] as const,
    start: 'A' as const,
    part: 'pattern' as const,
  })),
  picks: Array.from({ length: 72 }, () => '21F'),
}

/** The page as words, without its pictures: what a reader has. */
const words = (html: string) =>
  html
    .replace(/<svg[\s\S]*?<\/svg>/g, ' ')
    .replace(/<[^>]+>/g, ' ')
    .replace(/&#x3D;/g, '=')
    .replace(/\s+/g, ' ')

function makePair(db: Db, { withDraft = true } = {}) {
  const original = makeOriginal(db, { name: 'Fen band' })
  const { revisionId } = insertDraft(db, { draft: DRAFT, notes: '', originalId: original }, AT)
  const yarn = {
    role: 'pattern warp',
    yarn: 'two-ply wool',
    count: '20',
    countSystem: 'Nm',
    ply: 2,
    colourKey: 'm',
  } as const
  const piece = makePiece(db, {
    name: 'First replica',
    originalId: original,
    draftRevisionId: withDraft ? revisionId : undefined,
    yarns: [yarn],
  })
  return { original, piece }
}

describe('GET /pieces/:id/compare', () => {
  test('sets the working claims side by side, with ratio, interval and verdict', async () => {
    const { db, get } = startApp()
    const { original, piece } = makePair(db)
    makeClaim(db, { originalId: original }, { value: '13.0', u: '0.1', n: 12, locator: 'p. 44' })
    makeClaim(
      db,
      { pieceId: piece },
      { kind: 'readings', readings: '19.9 20.0 20.1', resolution: '0.5', basis: 'seen', state: 'offTension' },
    )
    const text = words((await get(`/pieces/${piece}/compare`)).text)
    // Common practice, no source: 20 mm against 13 mm is a ratio of 1.54.
    expect(text).toContain('1.54 times the original larger than the original')
    expect(text).toContain('13.0 mm n = 12; u = 0.1 mm; as preserved, read in a publication')
    expect(text).toContain('20.00 mm mean; n = 3')
  })

  test('works out tablets, ends and picks per cm from the draft and the measured width and repeat', async () => {
    const { db, get } = startApp()
    const { piece } = makePair(db)
    makeClaim(db, { pieceId: piece }, { value: '30', u: '0', basis: 'seen' })
    makeClaim(db, { pieceId: piece }, { feature: 'repeatLength', value: '90', u: '0', basis: 'seen' })
    const text = words((await get(`/pieces/${piece}/compare`)).text)
    // 21 tablets and 84 ends in 30 mm; common practice, no source: 72 picks in 9 cm are 8 picks/cm.
    expect(text).toContain('7 per cm worked out from tablets and width')
    expect(text).toContain('28 per cm worked out from the ends of the draft and the width')
    expect(text).toContain('8 per cm worked out from picks and length of a repeat')
  })

  test('says which blank it is, and what reading would decide', async () => {
    const { db, get } = startApp()
    const { original, piece } = makePair(db)
    makeClaim(db, { originalId: original }, { kind: 'blank', blank: 'notPublished', unit: '' })
    makeClaim(db, { originalId: original }, { feature: 'picksPerCm', value: '9', unit: 'perCm' })
    makeClaim(db, { pieceId: piece }, { value: '20' })
    makeClaim(db, { pieceId: piece }, { feature: 'picksPerCm', value: '8', unit: 'perCm' })
    const text = words((await get(`/pieces/${piece}/compare`)).text)
    expect(text).toContain('not published')
    expect(text).toContain('no ratio: the original has no number')
    expect(text).toContain('cannot be decided')
    expect(text).toContain('The original is stated without an uncertainty')
  })

  test('says what warp would reach the width: linear density goes with the square of the diameter', async () => {
    const { db, get } = startApp()
    const { original, piece } = makePair(db)
    makeClaim(db, { originalId: original }, { value: '13' })
    makeClaim(db, { originalId: original }, { feature: 'tablets', value: '21', unit: 'count' })
    makeClaim(db, { pieceId: piece }, { value: '20' })
    const text = words((await get(`/pieces/${piece}/compare`)).text)
    // Nm 20/2 is 100 tex; 100 x (13/20)^2 = 42.25 tex, which is Nm 47.3 twofold. 21 tablets in 13 mm are 16.2 per cm.
    expect(text).toContain('100 tex in all')
    expect(text).toContain('42.3 tex in all')
    expect(text).toContain('47.3')
    expect(text).toContain('16.2 tablets per cm; the piece has 10.5')
  })

  test('says what is missing for that, and computes nothing then', async () => {
    const { db, get } = startApp()
    const { piece } = makePair(db)
    const text = words((await get(`/pieces/${piece}/compare`)).text)
    expect(text).toContain('The width of the original has no value.')
    expect(text).toContain('The width of the piece has not been measured.')
    expect(text).not.toContain('tex in all')
  })

  test('gives the pace without breaks: common practice, no source: two repeats of 9 cm in an hour and a half are 12 cm/h', async () => {
    const { db, get } = startApp()
    const { piece } = makePair(db)
    makeSitting(db, piece, { minutes: 100, breakMinutes: 10, repeats: 2, lengthMm: 180 })
    makeSitting(db, piece, { stage: 'thread', minutes: 45 })
    const text = words((await get(`/pieces/${piece}/compare`)).text)
    expect(text).toContain('A repeat takes 45.0 min over 90 min in 1 sitting')
    expect(text).toContain('Picks in an hour 96.0')
    expect(text).toContain('Woven in an hour 12.0 cm')
    // 96 picks of 21 tablets: 2016 quarter turns.
    expect(text).toContain('Quarter turns in an hour 2020 21.0 in a pick')
    expect(text).toContain('2.3 h in all')
  })

  test('draws both bands in their own width: an em of the page is a millimetre of cloth', async () => {
    const { db, get } = startApp()
    const { original, piece } = makePair(db)
    for (const [subject, width] of [
      [{ originalId: original }, '13'],
      [{ pieceId: piece }, '20'],
    ] as const) {
      makeClaim(db, subject, { value: width })
      makeClaim(db, subject, { feature: 'picksPerCm', value: '8', unit: 'perCm' })
    }
    const html = (await get(`/pieces/${piece}/compare`)).text
    const sizes = [...html.matchAll(/<svg class="band" width="([\d.]+)em" height="([\d.]+)em"/g)].map(
      ([, width, height]) => [Number(width), Number(height)],
    )
    // 72 picks at 8 per cm are the 90 mm that are drawn.
    expect(sizes).toEqual([
      [13, 90],
      [20, 90],
    ])
  })

  test('lends picks per cm from the other side and says so; without a width draws nothing and says so', async () => {
    const { db, get } = startApp()
    const { original, piece } = makePair(db)
    makeClaim(db, { originalId: original }, { value: '13' })
    makeClaim(db, { pieceId: piece }, { feature: 'picksPerCm', value: '8', unit: 'perCm' })
    const text = words((await get(`/pieces/${piece}/compare`)).text)
    expect(text).toContain('13.0 mm wide, 8.0 picks per cm, lent from the piece')
    expect(text).toContain('Not drawn: the width has no value.')
  })

  test('of an own design without anything is still a page', async () => {
    const { db, get, broken } = startApp()
    const piece = makePiece(db, { name: 'Own thing' })
    const answer = await get(`/pieces/${piece}/compare`)
    expect(answer.status).toBe(200)
    expect(answer.text).toContain('A design of its own')
    expect(words(answer.text)).toContain('Neither side has a claim yet')
    expect(broken).toEqual([])
  })

  test.each(['/pieces/9/compare', '/pieces/x/compare'])('%s is not there', async (path) => {
    expect((await startApp().get(path)).status).toBe(404)
  })
})
