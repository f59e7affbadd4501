import { describe, expect, test } from 'vitest'
import { insertDraft, OWN_FRAME } from '../../server/draft/queries.ts'
import { planSheet } from '../../shared/plan/sheet.ts'
import { listFarOff } from '../../shared/plan/far-off.ts'
import { readPlan } from '../../shared/plan/read-plan.ts'
import { workOutSettled } from '../../shared/plan/settled.ts'
import { workOutYarn } from '../../shared/plan/work-out.ts'
import { makePiece } from '../support/make-piece.ts'
import { startApp } from '../support/start.ts'
import { makeLot, makeYarn, move } from '../yarn-store/make-yarn.ts'
import { enteredOf, factsOf, LADDER } from './facts.ts'

const lot = (value: string, tex: number) => ({ value, label: value, tex, density: null, measuredMm: null, freeG: 100 })
const YARNS = [lot('lot-1', 100), lot('lot-2', 50), lot('lot-3', 50)]
const PLAN = {
  ...{ wovenCm: '140', picksPerCm: '10', widthMm: '20', wasteCm: '60', sampleCm: '10', fringeCm: '20' },
  ...{ 'warp-m': 'lot-1', 'warp-w': 'lot-2', weft: 'lot-3' },
}
const LOTS = new Map([
  ['warp-m', 'lot-1'],
  ['warp-w', 'lot-2'],
  ['weft', 'lot-3'],
])

function settle(changes: Record<string, string>, grams: Record<string, number>, lots = LOTS) {
  const facts = factsOf({ yarns: YARNS })
  const { wants } = readPlan(enteredOf({ ...PLAN, ...changes }), facts)
  const uses = new Map(Object.entries(grams).map(([key, usedG]) => [key, { usedG, isOpen: false }]))
  const figures = workOutYarn(wants, facts)
  return { ...workOutSettled(wants, figures, lots, uses), figures }
}

describe('workOutSettled(wants, figures, lots, uses)', () => {
  // 24 ends of 100 tex and 8 of 50: 2.8 g for a metre of warp. 7.0 g are 2.5 m an end; less 0.8, over 1.5 m: 13.33 %.
  test('makes a length of the grams by tex and ends, takes off what is not woven, and says what it rests on', () => {
    const found = settle({}, { 'lot-1': 6, 'lot-2': 1, 'lot-3': 2 })
    expect(found.percent).toBeCloseTo(100 * (1.7 / 1.5 - 1), 10)
    expect(found.rests).toBe(
      '7.0 g of warp, by the count 250 cm for each of 32 ends, less 80 cm not woven (as planned), over 150 cm woven (as planned)',
    )
    expect(found.weftRatio).toBeCloseTo(2 / found.figures.weft!.massG!, 12)
  })

  test('goes by what was measured where it was', () => {
    const found = settle({ woundCm: '250', leftCm: '70', measuredCm: '160' }, { 'lot-1': 6, 'lot-2': 1 })
    expect(found.percent).toBeCloseTo(100 * (1.8 / 1.6 - 1), 10)
    expect(found.rests).toContain('less 70 cm not woven (as measured), over 160 cm woven (as measured)')
    expect(found.weftRatio).toBeNull()
  })

  test('parts the grams of a lot that served warp and weft as they were planned, and says so', () => {
    const lots = new Map([...LOTS, ['weft', 'lot-2']])
    const { figures } = settle({ weft: 'lot-2' }, {}, lots)
    const [warpG, weftG] = [figures.warp!.perColour.w!.massG!, figures.weft!.massG!]
    // Everything was used exactly as planned: the take-up is that of the plan.
    const found = settle(
      { weft: 'lot-2' },
      { 'lot-1': figures.warp!.perColour.m!.massG!, 'lot-2': warpG + weftG },
      lots,
    )
    expect(found.percent).toBeCloseTo(figures.takeUp.percent, 8)
    expect(found.rests).toContain('warp and weft of one lot are parted as they were planned')
    expect(found.weftRatio).toBeNull()
  })

  test.each([
    [{ wovenCm: '' }, { 'lot-1': 6, 'lot-2': 1 }, 'its plan does not say how long it is'],
    [{}, { 'lot-1': 6 }, 'nothing of lot-2 was entered as used'],
    [{ 'warp-w': 'lot-9' }, { 'lot-1': 6, 'lot-2': 1 }, 'no lot with a known tex is named for the warp of colour w'],
  ])('with %j and %j teaches nothing, and says why', (changes, grams, why) => {
    const found = settle(changes, grams)
    expect(found.percent).toBeNull()
    expect(found.rests).toContain(why)
  })
})

test('listFarOff(values) names what lies far off the others, and nothing of three', () => {
  expect(listFarOff([1.1, 1.12, 1.08, 1.1, 3])).toEqual([4])
  expect(listFarOff([1, 1, 3])).toEqual([])
  expect(listFarOff([1, 1, 1, 3])).toEqual([])
  expect(() => listFarOff([Number.NaN])).toThrow(RangeError)
})

describe('planSheet(entered, facts) with settled pieces', () => {
  const piece = (pieceId: number, ratio: number | null, percent: number | null = 10) => ({
    ...{ pieceId, piece: `Piece ${pieceId}`, ratio, percent, weftRatio: ratio, rests: 'grams' },
  })
  const settled = [piece(1, 1.1), piece(2, 1.12), piece(3, 1.08), piece(4, 1.1), piece(5, 3), piece(6, null, -2)]
  const measured = [{ pieceId: 1, piece: 'Piece 1', value: 1.2 }]

  test('offers them and goes by them only when that is chosen; what is far off counts, and is said', () => {
    const facts = factsOf({ yarns: YARNS, settled, takeUpRatios: measured })
    const plain = planSheet(enteredOf(PLAN), facts)
    const chosen = planSheet(enteredOf({ ...PLAN, takeUpBy: 'settled' }), facts)
    expect(plain.figures.takeUp.by).toBe('corrected')
    expect(chosen.figures.takeUp.by).toBe('settled')
    const most = Math.max(...plain.figures.takeUp.perTablet)
    expect(chosen.figures.takeUp.percent).toBeCloseTo((most * (1.1 + 1.12 + 1.08 + 1.1 + 3)) / 5, 10)
    expect(plain.sheet.assumptions[0]!.text).toContain('n = 5, s 0.85), which is not taken unless you choose it')
    expect(chosen.sheet.assumptions[0]!.text).toContain('so that is taken')
    const rows = plain.sheet.lessons
    expect(rows.map(({ cells }) => cells[2]!.text)).toEqual([
      ...['1.10 times', '1.12 times', '1.08 times', '1.10 times', '3.00 times, far off', '–'],
    ])
    expect(rows[4]!.cells[2]!.how).toContain('It counts all the same')
    expect(rows[5]!.cells[1]!.how).toContain('A take-up is more than nothing, so it is not counted')
    expect(rows[0]!.cells[0]!.text).toBe('1.20 times')
    expect(plain.sheet.says.lessons).toContain('This plan goes by what was measured.')
    expect(plain.sheet.says.lessons).toContain('an allowance of 62.8 % in place of 10 %')
  })

  test('chosen without any goes by geometry, and says that there is none', () => {
    const { figures, sheet } = planSheet(enteredOf({ ...PLAN, takeUpBy: 'settled' }), factsOf({ yarns: YARNS }))
    expect(figures.takeUp.by).toBe('geometry')
    expect(sheet.assumptions[0]!.text).toContain('No piece is settled yet (n = 0)')
  })
})

test('a finished piece that was reserved for, settled and measured teaches the plan of the next', async () => {
  const { db, get, post } = startApp()
  const at = '2026-11-24T12:00:00.000Z'
  const kept = { draft: LADDER, notes: '', originalId: undefined, convention: OWN_FRAME }
  const { revisionId } = insertDraft(db, kept, at)
  const yarn = makeYarn(db, { name: 'Worsted', count: '100 tex', blend: 'wool' })
  const [warp, weft] = [makeLot(db, yarn), makeLot(db, yarn, { colourName: 'undyed' })]
  for (const one of [warp, weft]) move(db, one, 'bought', 100_000)
  const woven = { wovenOn: '2026-11-20', finishedOn: '2026-11-21' }
  const first = makePiece(db, { name: 'Ferry belt', draftRevisionId: revisionId, ...woven })
  const plan = { ...PLAN, 'warp-m': `lot-${warp}`, 'warp-w': `lot-${warp}`, weft: `lot-${weft}` }
  await post(`/pieces/${first}/plan`, { ...enteredOf(plan) })
  await post(`/pieces/${first}/plan/reserve`)
  const used = { [`used-${warp}`]: '8', [`used-${weft}`]: '4', day: '2026-11-22' }
  expect((await post(`/pieces/${first}/settle`, used)).status).toBe(303)
  // 32 ends of 100 tex: 3.2 g a metre, so 8 g are 2.5 m; less 0.8 m, over 1.5 m.
  expect((await get(`/pieces/${first}/settle`)).text).toContain(
    'By its grams the warp took up 13.3 % of the woven length',
  )
  const next = makePiece(db, { name: 'Next', draftRevisionId: revisionId })
  const { text } = await get(
    `/pieces/${next}/plan?${new URLSearchParams({ ...enteredOf(plan), takeUpBy: 'settled' }).toString()}`,
  )
  expect(text).toContain('<span>Ferry belt</span>')
  expect(text).toContain('<summary>13.3 %</summary>')
  expect(text).toContain('This plan goes by the grams that were settled.')
})
