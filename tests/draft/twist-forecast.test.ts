import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { planBorders } from '../../shared/draft/border-plan.ts'
import { borderSteps, withBorderPlan } from '../../shared/draft/border-turning.ts'
import { readTurning } from '../../shared/draft/turning.ts'
import { bareAfter, type BareWarp, forecastTwist } from '../../shared/draft/twist-forecast.ts'
import { twistRelief } from '../../shared/draft/twist-relief.ts'
import { weave } from '../../shared/draft/weave.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { arbitraryDraft, draftOf, makeTablet } from './arbitrary-draft.ts'

const WARP: BareWarp = { bareMm: 1000, pickMm: 1, warpPerWoven: 1 }

function turning(...lines: string[]) {
  const read = readTurning(lines, 1)
  if (!read.ok) throw new Error('turning')
  return read.turning
}

describe('forecastTwist(turning, warp, picks, limitPerM)', () => {
  test('a tablet always forward: 100 picks are 25 turns in the 0.9 m that is left', () => {
    const forecast = forecastTwist(turning('1F'), WARP, 100, 30)
    expect(forecast.turnsPerM[100]).toBeCloseTo(25 / 0.9, 12)
    expect(forecast).toMatchObject({ picks: 100, over: null, outAt: null, weavablePicks: 100, weavableMm: 100 })
    expect(forecast.worst).toEqual({ tablet: 1, net: 100 })
  })

  test('says after which pick the limit is passed: q / 4 > 20 x (1 - q / 1000) first at q = 75', () => {
    const forecast = forecastTwist(turning('1F'), WARP, 500, 20)
    expect(forecast.over).toEqual({ pick: 75, tablets: [1] })
    expect(forecast.weavablePicks).toBe(74)
  })

  test('a repeat that leaves no twist never passes it, and ends with the warp', () => {
    const forecast = forecastTwist(turning('1F', '1F', '1B', '1B'), { ...WARP, warpPerWoven: 1.25 }, 2000, 500)
    expect(forecast).toMatchObject({ outAt: 800, picks: 799 })
  })

  test('counts what the engine counts, at the end of every repeat', () => {
    fc.assert(
      fc.property(arbitraryDraft, fc.integer({ min: 1, max: 4 }), ({ draft }, repeats) => {
        const turns = turningOf(draft)
        const { net } = weave(draft, turns)
        const picks = turns.picks * repeats
        const forecast = forecastTwist(turns, { bareMm: 2 * picks, pickMm: 1, warpPerWoven: 1 }, picks, 1e9)
        const most = Math.max(...net.map(Math.abs)) * repeats
        expect(Math.abs(forecast.worst.net)).toBe(most)
        expect(forecast.turnsPerM[picks]).toBeCloseTo(most / 4 / (picks / 1000), 6)
      }),
      { numRuns: 60 },
    )
  })

  test('counts border and pattern tablets apart, and turns borders back where they are reversed', () => {
    const read = readTurning(['2F', '2F'], 2)
    if (!read.ok) throw new Error('turning')
    const borders = { isBorder: [true, false], reversals: [60] }
    const forecast = forecastTwist(read.turning, WARP, 100, 20, borders)
    expect([...forecast.net]).toEqual([20, 100])
    expect(forecast.borderTurnsPerM[60]).toBeCloseTo(15 / 0.94, 12)
    expect(forecast.borderTurnsPerM[100]).toBeCloseTo(5 / 0.9, 12)
    expect(forecast.patternTurnsPerM[100]).toBeCloseTo(25 / 0.9, 12)
    expect([...forecast.overAfter]).toEqual([0, 75])
  })

  test('with borders reversed counts what the engine counts of the draft written out that way', () => {
    const reversed = fc.uniqueArray(fc.integer({ min: 1, max: 60 }), { maxLength: 5 })
    fc.assert(
      fc.property(arbitraryDraft, fc.integer({ min: 1, max: 60 }), reversed, ({ draft }, picks, unsorted) => {
        const reversals = [...unsorted].sort((left, right) => left - right)
        const isBorder = draft.tablets.map(({ part }) => part === 'border')
        const warp = { bareMm: 2 * picks, pickMm: 1, warpPerWoven: 1 }
        const forecast = forecastTwist(turningOf(draft), warp, picks, 1e9, { isBorder, reversals })
        const written = withBorderPlan(draft, picks, reversals)
        expect([...forecast.net]).toEqual([...weave(written, turningOf(written)).net])
      }),
      { numRuns: 60 },
    )
  })

  test('refuses a take-up below nothing', () => {
    expect(() => forecastTwist(turning('1F'), { ...WARP, warpPerWoven: 0.9 }, 1, 1)).toThrow(
      'warpPerWoven must be 1 or more',
    )
  })
})

describe('planBorders(warp, picks, blockPicks, limitPerM)', () => {
  test('puts the first reversal at the last edge of a block before the limit', () => {
    // 10 turns a metre: after 38 picks there would be 9.5 turns in 0.962 m, within; after 39, 9.75 in 0.961 m, over.
    expect(planBorders(WARP, 40, 8, 10).reversals).toEqual([32])
  })

  test('says how far it can go where no reversal keeps the limit', () => {
    const plan = planBorders(WARP, 1000, 40, 4)
    expect(plan.picks).toBeLessThan(1000)
    expect(plan.picks % 40).toBe(0)
  })

  test('takes borders that rest or make half turns: the same, counted by their own turns', () => {
    // Half turns at every pick bring 9.5 turns within 19 picks; 20 picks would bring 10 in 0.98 m.
    expect(planBorders(WARP, 24, 1, 10, [2]).reversals).toEqual([19])
    expect(planBorders(WARP, 500, 8, 10, [0]).reversals).toEqual([])
    expect(() => planBorders(WARP, 8, 8, 10, [-1])).toThrow('steps[0] must be a whole number of at least 0')
  })

  test('keeps the limit at every pick, with as few reversals as any plan of that length has', () => {
    const cases = fc.record({
      steps: fc.oneof(fc.constant([1]), fc.array(fc.integer({ min: 0, max: 2 }), { minLength: 1, maxLength: 6 })),
      bareMm: fc.integer({ min: 60, max: 400 }),
      blockPicks: fc.integer({ min: 1, max: 9 }),
      blocks: fc.integer({ min: 1, max: 9 }),
      limitPerM: fc.integer({ min: 4, max: 60 }),
    })
    fc.assert(
      fc.property(cases, ({ steps, bareMm, blockPicks, blocks, limitPerM }) => {
        const warp = { bareMm, pickMm: 1, warpPerWoven: 1.1 }
        const plan = planBorders(warp, blockPicks * blocks, blockPicks, limitPerM, steps)
        expect(worstOf(warp, plan.picks, plan.reversals, steps)).toBeLessThanOrEqual(limitPerM)
        const best = bestOf(warp, blockPicks, blocks, limitPerM, steps)
        expect([plan.picks, plan.reversals.length]).toEqual([best.picks, best.reversals])
      }),
      { numRuns: 400 },
    )
  })
})

function worstOf(warp: BareWarp, picks: number, reversals: readonly number[], steps: readonly number[]): number {
  let [net, turn, worst] = [0, 1, 0]
  for (let pick = 1; pick <= picks; pick++) {
    if (reversals.includes(pick - 1)) turn = -turn
    net += turn * steps[(pick - 1) % steps.length]!
    worst = Math.max(worst, Math.abs(net) / 4 / (bareAfter(warp, pick) / 1000))
  }
  return worst
}

/** Every way to go forward or back block by block: the longest that keeps the limit, then the fewest reversals. */
function bestOf(warp: BareWarp, blockPicks: number, blocks: number, limitPerM: number, steps: readonly number[]) {
  let best = { picks: 0, reversals: 0 }
  for (let ways = 0; ways < 2 ** (blocks - 1); ways++) {
    const turns = Array.from({ length: blocks }, (_, block) => (block > 0 && (ways >> (block - 1)) & 1 ? -1 : 1))
    for (let length = blocks; length > 0; length--) {
      const reversals = turns.flatMap((turn, at) =>
        at > 0 && at < length && turn !== turns[at - 1] ? [at * blockPicks] : [],
      )
      const picks = length * blockPicks
      if (bareAfter(warp, picks) <= 0 || worstOf(warp, picks, reversals, steps) > limitPerM) continue
      if (picks > best.picks || (picks === best.picks && reversals.length < best.reversals)) {
        best = { picks, reversals: reversals.length }
      }
      break
    }
  }
  return best
}

describe('borderSteps(draft, turning)', () => {
  const border = makeTablet({ part: 'border' })
  const stepsOf = (...rows: number[][]) => {
    const { draft, turning } = draftOf([border, makeTablet(), border], rows)
    return borderSteps(draft, turning)
  }

  test('gives the turns that left and right border make together, either way', () => {
    expect(stepsOf([1, -1, -1], [1, 1, -1], [0, 0, 0])).toEqual({ ok: true, steps: [1, 1, 0] })
  })

  test('says why there is no plan: borders that turn back, apart, or never', () => {
    expect(stepsOf([1, 1, 1], [-1, 1, -1])).toMatchObject({ ok: false, message: expect.stringContaining('turn back') })
    expect(stepsOf([1, 1, 0])).toMatchObject({ ok: false, message: expect.stringContaining('do not turn together') })
    expect(stepsOf([0, 1, 0])).toMatchObject({ ok: false, message: 'The border tablets never turn.' })
  })
})

describe('withBorderPlan(draft, picks, reversals)', () => {
  test('writes the repeat out and turns the borders back, the pattern as it was', () => {
    const { draft } = draftOf([makeTablet({ part: 'border' }), makeTablet()], [[1, 1]])
    expect(withBorderPlan(draft, 4, [2]).picks).toEqual(['2F', '2F', '1B 1F', '1B 1F'])
    expect(() => withBorderPlan(draft, 20_001, [])).toThrow('picks must be a whole number from 1 to 20000')
  })
})

describe('twistRelief(turning, warp, picks, limitPerM)', () => {
  test('one stop after pick 38, where 9.5 turns are let out; another where they have come again', () => {
    expect(twistRelief(turning('1F'), WARP, 60, 10)).toEqual({ stops: [38], tablets: [1], turns: 9.5 })
    expect(twistRelief(turning('1F'), WARP, 80, 10).stops).toEqual([38, 75])
  })

  test('nothing to do for a repeat that leaves no twist', () => {
    expect(twistRelief(turning('1F', '1B'), WARP, 500, 10)).toEqual({ stops: [], tablets: [], turns: 0 })
  })
})
