import { describe, expect, test } from 'vitest'
import { insertDraft } from '../../server/draft/queries.ts'
import { lookOver } from '../../server/draft/look-over.ts'
import { listTurningRows } from '../../server/draft/turning-rows.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import { boundDraft } from '../../shared/draft/entry/bound.ts'
import { findTooLong, listCheckLines } from '../../shared/draft/entry/check-line.ts'
import { sayLeftOut } from '../../shared/draft/entry/say-entry.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { weave } from '../../shared/draft/weave.ts'
import { readable } from '../support/html.ts'
import { NOW, startApp } from '../support/start.ts'

const tablet = { threading: 'S', holes: ['a', 'a', 'b', 'b'], start: 'A', part: 'pattern' } as const
const draftOf = (tablets: number, picks: readonly string[]): Draft => ({
  title: 'Long band',
  colours: { a: { name: 'madder', hex: '#9c3b2e' }, b: { name: 'undyed', hex: '#e9dfc8' } },
  weft: 'a',
  tablets: Array.from({ length: tablets }, () => tablet),
  picks,
})
const alternating = (tablets: number, picks: number) =>
  draftOf(
    tablets,
    Array.from({ length: picks }, (_, pick) => (pick % 2 === 0 ? `${tablets}F` : `${tablets - 1}B 1F`)),
  )

describe('a draft too long to be looked over on a page', () => {
  test('boundDraft(draft, mostStitches) keeps the first picks, at least one, and a short draft as it is', () => {
    const draft = alternating(6, 12)
    expect(boundDraft(draft, 72)).toBe(draft)
    expect(boundDraft(draft, 71).picks).toEqual(draft.picks.slice(0, 11))
    expect(boundDraft(draft, 1).picks).toEqual(['6F'])
    expect(() => boundDraft(draft, 0)).toThrow(RangeError)
    expect(boundDraft(alternating(400, 20_000)).picks).toHaveLength(300)
  })

  test('findTooLong(tablets, picks) says so above a million turns and not at it', () => {
    expect(findTooLong(400, 2500)).toBeUndefined()
    expect(findTooLong(400, 2501)?.text).toContain('1000400 turns (400 tablets by 2501 picks)')
  })

  test('listCheckLines(draft, turning, woven) gives that line alone', () => {
    const draft = alternating(400, 2501)
    const turning = turningOf(draft)
    expect(listCheckLines(draft, turning, weave(draft, turning))).toEqual([findTooLong(400, 2501)])
  })

  test('lookOver(draft) counts what needs no weaving, and reads the beginning of the turning', () => {
    const { checks, counts, turning } = lookOver(alternating(400, 20_000))
    expect(checks).toHaveLength(1)
    expect(counts.map(({ label, value }) => `${label}: ${value}`)).toEqual([
      'Tablets: 400',
      'Warp ends: 1600',
      'Picks in the repeat: 20000',
    ])
    expect(turning.picks).toBe(2500)
  })

  test('lookOver(draft) reads and checks the whole of a draft that is just short enough', () => {
    const { checks, counts, turning } = lookOver(alternating(400, 2500))
    expect(checks.length).toBeGreaterThan(3)
    expect(counts.map(({ label }) => label)).toContain('Different picks')
    expect(turning.picks).toBe(2500)
  })

  test('listTurningRows(turning) folds picks that are alike, and counts what 400 rows do not hold', () => {
    expect(listTurningRows(turningOf(draftOf(3, ['3F', '3F', '2F 1B', '3F', '3F', '3F'])))).toEqual({
      rows: [
        { picks: '1, 2', runs: '3F' },
        { picks: '3', runs: '2F 1B' },
        { picks: '4 to 6', runs: '3F' },
      ],
      leftOut: 0,
    })
    expect(listTurningRows(turningOf(alternating(6, 500)))).toMatchObject({ leftOut: 100 })
  })

  test('sayLeftOut(drawable) counts the picks of the draft, whatever part of its turning was read', () => {
    const draft = alternating(400, 20_000)
    const turning = turningOf(boundDraft(draft))
    expect(sayLeftOut({ draft, turning })).toContain('Picks 1 to 300 of 20000')
  })

  test('GET /drafts/:id of the longest draft says what it leaves out, in the checks, the turning and the twist', async () => {
    const { db, get } = startApp()
    const { id } = insertDraft(
      db,
      { draft: alternating(400, 20_000), notes: '', originalId: undefined },
      NOW.toISOString(),
    )
    const html = readable((await get(`/drafts/${id}`).expect(200)).text)
    expect(html).toContain('8000000 turns (400 tablets by 20000 picks) are more than the 1000000')
    expect(html).toContain('19600 further picks stand in the document only')
    expect(html).toContain('Picks 1 to 300 of 20000 are drawn')
    expect(html).toContain('twist, closure and floats of this repeat were not checked')
    expect(html).not.toContain('Longest float')
    await get(`/drafts/${id}/revisions/1/face.svg`).expect(200)
    await get(`/drafts/${id}/revisions/1/twist.svg`).expect(200)
  })
})
