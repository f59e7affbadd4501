import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { weave } from '../../shared/draft/weave.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { withBorderPlan } from '../../shared/draft/border-turning.ts'
import { planSheet } from '../../shared/plan/sheet.ts'
import { cordWidthMm } from '../../shared/yarn/scale.ts'
import { diameterEstimate, PACKING_RANGES } from '../../shared/yarn/diameter-range.ts'
import { expectWithin } from '../measure/reference.ts'
import { arbitraryDraft } from '../draft/arbitrary-draft.ts'
import { enteredOf, factsOf, LADDER } from './facts.ts'

const KNOWN = {
  ...{ wovenCm: '150', picksPerCm: '10', wasteCm: '60', sampleCm: '10', fringeCm: '20' },
  ...{ 'warp-m-count': '100 tex', 'warp-w-count': 'Nm 20/2', 'weft-count': '50 tex' },
}

describe('planSheet(entered, facts)', () => {
  test('takes 10 % of the woven length, and says that it has no source, until yarn and picks are known', () => {
    const { sheet, figures } = planSheet(enteredOf({ wovenCm: '150', sampleCm: '10' }), factsOf())
    expectWithin(figures.warp!.warpLengthMm, 1600 * 1.1 + 800, 1e-12)
    expect(sheet.figures.warpLength.text).toBe('2.56 m')
    expect(sheet.figures.warpLength.how).toBe(
      '(150 cm woven + 10 cm sample) × (1 + 10 % of the woven length) + 60 cm loom waste + 20 cm fringe = 256 cm',
    )
    expect(sheet.assumptions[0]!.text).toContain('common practice, no source')
  })

  test('84 ends of 2.5 m are 210 m (common practice, no source)', () => {
    const tablets = Array.from({ length: 21 }, () => LADDER.tablets[0]!)
    const draft = { ...LADDER, tablets, picks: ['21F'] }
    const lengths = { wovenCm: '250', wasteCm: '', sampleCm: '', fringeCm: '' }
    const typed = enteredOf({ ...lengths, takeUpBy: 'typed', takeUpPercent: '0' })
    const { sheet } = planSheet(typed, factsOf({ draft }))
    expect(sheet.figures).toMatchObject({ ends: { text: '84' }, warpLength: { text: '2.50 m' } })
    expect(sheet.warp.at(-1)!.cells[1]!.text).toBe('210 m')
  })

  test('four arms a little over 25 cm apart give about a metre a turn (common practice, no source)', () => {
    const typed = enteredOf({ ...KNOWN, winder: 'arms', winderArms: '4', winderSpacingCm: '25,2' })
    const { figures, sheet } = planSheet(typed, factsOf())
    expect(figures.windingTurnMm).toBe(1008)
    expect(sheet.figures.windingTurns.how).toContain('100.8 cm a turn (4 arms × 25.2 cm)')
    expectWithin(figures.warp!.windingTurns!, figures.warp!.warpLengthMm / 1008, 1e-12)
  })

  test('counts woven length before finishing shrinks it, and the take-up of the warp on its own base', () => {
    const typed = {
      ...KNOWN,
      shrinkPercent: '20',
      sampleCm: '',
      takeUpBy: 'typed',
      takeUpPercent: '10',
      takeUpOf: 'warp',
    }
    const { figures, sheet } = planSheet(enteredOf({ ...typed, wovenCm: '10' }), factsOf())
    // 10 finished are 12.5 woven, not 12: the rule as a weavers' conference page works it.
    expectWithin(figures.toWeaveMm!, 125, 1e-12)
    expectWithin(figures.warp!.warpLengthMm, 125 / 0.9 + 800, 1e-12)
    expect(sheet.assumptions[0]!.text).toContain('10 % of the warp, as typed, which is 11.1 % of the woven length')
  })

  test('metres by colour add up to ends x warp length, for any draft and length', () => {
    fc.assert(
      fc.property(
        arbitraryDraft,
        fc.integer({ min: 1, max: 900 }),
        fc.integer({ min: 0, max: 99 }),
        (some, cm, percent) => {
          const typed = enteredOf({
            wovenCm: String(cm),
            takeUpBy: 'typed',
            takeUpPercent: String(percent),
            takeUpOf: 'warp',
          })
          const { figures } = planSheet(typed, factsOf({ draft: some.draft }))
          const { warp } = figures
          const metres = Object.values(warp!.perColour).reduce((sum, { lengthM }) => sum + lengthM, 0)
          expect(Math.abs(metres - (warp!.ends * warp!.warpLengthMm) / 1000)).toBeLessThan(1e-9 * (1 + metres))
          expect(warp!.ends).toBe(some.draft.tablets.flatMap(({ holes }) => holes).filter(Boolean).length)
        },
      ),
      { numRuns: 60 },
    )
  })

  test('the twist that it forecasts is what the engine counts of the draft written out over the band', () => {
    const typed = enteredOf({ ...KNOWN, borders: 'reverse', reversals: '200, 904' })
    const { figures, sheet } = planSheet(typed, factsOf())
    const { twist } = figures
    const written = withBorderPlan(LADDER, twist!.picks, [200, 904])
    expect(twist!.picks).toBe(1600)
    expect([...twist!.forecast.net]).toEqual([...weave(written, turningOf(written)).net])
    expect(sheet.twist[0]!.head).toBe('Border tablets 1, 2, 7, 8')
  })

  test('proposes reversals that, once taken, keep the limit at every pick', () => {
    const facts = factsOf()
    const asDrafted = planSheet(enteredOf({ ...KNOWN, twistLimit: '40' }), facts)
    expect(asDrafted.figures.twist!.forecast.over).not.toBeNull()
    const { proposed } = asDrafted.sheet
    expect(proposed).toMatch(/^\d+(, \d+)*$/)
    expect(proposed.split(', ').every((pick) => Number(pick) % LADDER.picks.length === 0)).toBe(true)
    const taken = planSheet(enteredOf({ ...KNOWN, twistLimit: '40', borders: 'reverse', reversals: proposed }), facts)
    expect(taken.figures.twist!.forecast.over).toBeNull()
    expect(taken.sheet.says.twist).toMatch(/^All 1600 picks stay within 40 turns per m/)
  })

  test('corrects geometry by own finished pieces, and says with how many', () => {
    const taught = [
      { pieceId: 1, piece: 'First', value: 1.2 },
      { pieceId: 2, piece: 'Second', value: 1.4 },
    ]
    const plain = planSheet(enteredOf(KNOWN), factsOf()).figures.takeUp
    const { figures, sheet } = planSheet(enteredOf(KNOWN), factsOf({ takeUpRatios: taught }))
    expect(plain.by).toBe('geometry')
    expect(figures.takeUp.by).toBe('corrected')
    expectWithin(figures.takeUp.percent, plain.percent * 1.3, 1e-12)
    expect(sheet.assumptions[0]!.text).toContain('n = 2, s 0.14')
    expect(sheet.assumptions[0]!.text).toContain('First, Second')
  })

  test('weft: picks x passages x (width and the way to the next pick), and the allowance', () => {
    const typed = enteredOf({ ...KNOWN, widthMm: '20', weftPasses: '2', weftStrands: '3', weftAllowance: '10' })
    const { weft } = planSheet(typed, factsOf()).figures
    expect(weft!.picks).toBe(1600)
    expectWithin(weft!.lengthM, (3 * 1600 * 2 * 21 * 1.1) / 1000, 1e-12)
    expectWithin(weft!.massG!, (weft!.lengthM * 50) / 1000, 1e-12)
  })

  test('says what the shelf has and what is short, one lot for two colours and the weft counted together', () => {
    const lot = { value: 'lot-3', label: 'Lot 3', tex: 100, density: null, measuredMm: null, freeG: 3 }
    const chosen = { 'warp-m': 'lot-3', 'warp-w': 'lot-3', weft: 'lot-3', widthMm: '8' }
    const { figures, sheet } = planSheet(enteredOf({ ...KNOWN, ...chosen }), factsOf({ yarns: [lot] }))
    expect(figures.needs).toHaveLength(1)
    const need = figures.needs[0]!.massG!
    const warp = Object.values(figures.warp!.perColour).reduce((sum, { massG }) => sum + massG!, 0)
    expectWithin(need, warp + figures.weft!.massG!, 1e-12)
    expect(sheet.needs[0]!.cells[2]!.text).toBe(
      `short by ${(need - 3).toFixed(1)} g, ${((need - 3) * 10).toFixed(1)} m`,
    )
    const enough = planSheet(enteredOf({ ...KNOWN, ...chosen }), factsOf({ yarns: [{ ...lot, freeG: 300 }] }))
    expect(enough.sheet.needs[0]!.cells[2]!.text).toMatch(/^enough, \d+ g over$/)
  })

  test('predicts the width by the stated prior, and by own pieces where there are any', () => {
    const { figures } = planSheet(enteredOf(KNOWN), factsOf())
    const { diameterMm } = diameterEstimate(100, 1.31, PACKING_RANGES.worsted, 0)
    expectWithin(figures.scale.width!.mm, 8 * cordWidthMm(diameterMm, 2.2), 1e-12)
    const own = [2, 2.1, 2.2].map((value, at) => ({ pieceId: at, piece: `Piece ${at}`, value }))
    const { scale } = planSheet(enteredOf(KNOWN), factsOf({ cordRatios: own })).figures
    // t of 95 % with 2 degrees of freedom is 4.303 (any table of Student's t); s is 0.1.
    expectWithin(scale.constant.k, 2.1, 1e-12)
    expectWithin(scale.constant.high - 2.1, 4.30265 * 0.1 * Math.sqrt(4 / 3), 1e-4)
  })

  test('takes a diameter that was measured on the yarn before the one that tex and density give, and says so', () => {
    const lot = { value: 'lot-3', label: 'Lot 3', tex: 100, density: null, measuredMm: 0.5, freeG: 3 }
    const typed = enteredOf({ ...KNOWN, 'warp-m-count': '', 'warp-w-count': '', 'warp-m': 'lot-3', 'warp-w': 'lot-3' })
    const { figures, sheet } = planSheet(typed, factsOf({ yarns: [lot] }))
    expectWithin(figures.scale.width!.mm, 8 * cordWidthMm(0.5, 2.2), 1e-12)
    expectWithin(figures.scale.width!.highMm, 8 * cordWidthMm(0.5, 2.6), 1e-12)
    expect(sheet.assumptions.find(({ label }) => label === 'Warp thread')!.text).toContain(
      '0.50 mm thick as measured on the yarn',
    )
    const other = planSheet({ ...typed, 'warp-w': '', 'warp-w-count': '100 tex' }, factsOf({ yarns: [lot] }))
    expect(other.figures.warpYarn!.isMeasured).toBe(false)
  })

  test('the yarn that reaches a width gives that width, whatever the fibre', () => {
    const original = { ...factsOf().original, widthMm: { value: 6.5, from: 'a claim' } }
    const { targets } = planSheet(enteredOf({ ...KNOWN, fibre: 'silk' }), factsOf({ original })).figures.scale
    const [target] = targets
    const again = planSheet(
      enteredOf({
        ...KNOWN,
        fibre: 'silk',
        'warp-m-count': `${target!.tex} tex`,
        'warp-w-count': `${target!.tex} tex`,
      }),
      factsOf({ original }),
    )
    expectWithin(again.figures.scale.width!.mm, 6.5, 1e-3)
    expect(target!.lowTex).toBeLessThan(target!.tex)
    expect(target!.highTex).toBeGreaterThan(target!.tex)
  })

  test('says what is wrong beside each field, and works out the rest', () => {
    const typed = { wovenCm: 'long', wasteCm: '-1', reversals: '96, 40', 'warp-m-count': '20/2 wool', winder: 'turn' }
    const { problems, sheet } = planSheet(enteredOf(typed), factsOf())
    expect(Object.keys(problems).sort()).toEqual(['reversals', 'warp-m-count', 'wasteCm', 'winderTurnCm', 'wovenCm'])
    expect(problems['warp-m-count']).toContain('mean different things')
    expect(sheet.figures.warpLength.text).toBe('not yet known')
    expect(sheet.figures.ends.text).toBe('32')
  })
})
