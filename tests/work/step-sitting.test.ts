import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { StepKind } from '../../shared/loom/step.ts'
import { hoursByStage } from '../../shared/work/pace.ts'
import { DEFAULT_LIMITS, listStepGaps, type TimedStep } from '../../shared/work/step-gap.ts'
import { sittingsFromSteps, type StepSitting, type TimeSpan } from '../../shared/work/step-sitting.ts'

const T0 = Date.parse('2026-11-20T09:00:00Z')
const at = (minutes: number) => new Date(T0 + Math.round(minutes * 60_000)).toISOString()
const clock = (minutes: number) => at(minutes).replace('.000Z', 'Z')
const NOTHING = { here: [], elsewhere: [], steps: [] }

/** Steps as `[minute, kind]`; the place follows from the kind. */
function steps(...told: (readonly [minutes: number, kind: StepKind])[]): TimedStep[] {
  let place = 0
  return told.map(([minutes, kind]) => {
    place = Math.max(0, place + (kind === 'woven' ? 1 : kind === 'unwoven' || kind === 'back' ? -1 : 0))
    return { at: at(minutes), kind, place }
  })
}
const wovenEach = (from: number, to: number, every = 1) =>
  Array.from({ length: Math.round((to - from) / every) + 1 }, (_, n) => [from + n * every, 'woven'] as const)

describe('sittingsFromSteps(steps, limits)', () => {
  test('of a pick a minute is one sitting from the first step to the last', () => {
    const { sittings, rest } = sittingsFromSteps(steps(...wovenEach(0, 40)), DEFAULT_LIMITS)
    expect(sittings).toEqual([
      {
        ...{ stage: 'weave', startedAt: clock(0), endedAt: clock(40), minutes: 40, breakMinutes: 0, picks: 41 },
        ...{ steps: 41, stepsFrom: at(0), stepsTo: at(40) },
      },
    ])
    expect(rest).toEqual([])
  })

  test('takes a gap over the limit for a break, and so a pause however short; a gap up to the limit is work', () => {
    const told = steps(...wovenEach(0, 10), [15, 'woven'], [21, 'woven'], [22, 'woven'], [22.5, 'pause'], [25, 'woven'])
    expect(sittingsFromSteps(told, DEFAULT_LIMITS).sittings).toMatchObject([
      { minutes: 23, breakMinutes: 6, picks: 15, startedAt: clock(0), endedAt: clock(23) },
    ])
    const wide = sittingsFromSteps(told, { breakMinutes: 6, endMinutes: 90 }).sittings
    expect(wide).toMatchObject([{ breakMinutes: 0, picks: 15 }])
  })

  test('ends the sitting at a gap over the second limit', () => {
    const told = steps(...wovenEach(0, 10), ...wovenEach(101, 111))
    expect(sittingsFromSteps(told, DEFAULT_LIMITS).sittings).toMatchObject([
      { minutes: 10, picks: 11 },
      { minutes: 10, picks: 11, startedAt: clock(101) },
    ])
    expect(sittingsFromSteps(told, { breakMinutes: 5, endMinutes: 91 }).sittings).toMatchObject([
      { minutes: 111, breakMinutes: 91, picks: 22 },
    ])
  })

  test('parts weaving from unweaving, and counts the picks of both', () => {
    const told = steps(...wovenEach(0, 20), [21, 'slip'], [22, 'unwoven'], [23, 'unwoven'], ...wovenEach(24, 30))
    expect(sittingsFromSteps(told, DEFAULT_LIMITS).sittings).toMatchObject([
      { stage: 'weave', startedAt: clock(0), endedAt: clock(21), picks: 21 },
      { stage: 'unweave', startedAt: clock(21), endedAt: clock(23), picks: 2 },
      { stage: 'weave', startedAt: clock(23), endedAt: clock(30), picks: 7 },
    ])
  })

  test('leaves an unweaving of less than a minute with the weaving, its picks taken off', () => {
    const told = steps(...wovenEach(0, 10), [10.1, 'unwoven'], ...wovenEach(10.4, 20.4))
    expect(sittingsFromSteps(told, DEFAULT_LIMITS).sittings).toMatchObject([
      { stage: 'weave', minutes: 20, picks: 11 + 11 - 1 },
    ])
  })

  test('takes a pick that was put back off again, and never counts a place that was set', () => {
    const told: TimedStep[] = [
      { at: at(0), kind: 'set', place: 100 },
      { at: at(1), kind: 'woven', place: 101 },
      { at: at(2), kind: 'woven', place: 102 },
      { at: at(3), kind: 'back', place: 101 },
      { at: at(4), kind: 'woven', place: 102 },
    ]
    expect(sittingsFromSteps(told, DEFAULT_LIMITS).sittings).toMatchObject([{ minutes: 4, picks: 2 }])
  })

  test('proposes nothing from one step alone, and says that it is left over', () => {
    const { sittings, rest } = sittingsFromSteps(steps([0, 'woven']), DEFAULT_LIMITS)
    expect(sittings).toEqual([])
    expect(rest).toEqual([{ from: at(0), to: at(0), steps: 1, picks: 1 }])
    expect(sittingsFromSteps([], DEFAULT_LIMITS)).toEqual({ sittings: [], rest: [] })
  })

  test('refuses steps out of order and limits of nothing', () => {
    const [first, second] = steps([1, 'woven'], [0, 'woven'])
    expect(() => sittingsFromSteps([first!, second!], DEFAULT_LIMITS)).toThrow('steps[1].at')
    expect(() => sittingsFromSteps([], { breakMinutes: 0, endMinutes: 90 })).toThrow('limits.breakMinutes')
  })
})

describe('sittingsFromSteps(steps, limits, taken)', () => {
  const told = steps(...wovenEach(0, 60))

  test('proposes nothing of steps that a sitting was written from, and goes on from the last of them', () => {
    const written = { ...NOTHING, steps: [{ from: at(0), to: at(40) }] }
    expect(sittingsFromSteps(told, DEFAULT_LIMITS, written).sittings).toMatchObject([
      { startedAt: clock(40), endedAt: clock(60), picks: 20, stepsFrom: at(41) },
    ])
    expect(
      sittingsFromSteps(told, DEFAULT_LIMITS, { ...NOTHING, steps: [{ from: at(0), to: at(60) }] }).sittings,
    ).toEqual([])
  })

  test('leaves the time of a sitting by hand out, with the steps in it', () => {
    const byHand = { ...NOTHING, here: [{ from: clock(20), to: clock(30) }] }
    expect(sittingsFromSteps(told, DEFAULT_LIMITS, byHand).sittings).toMatchObject([
      { startedAt: clock(0), endedAt: clock(20), picks: 20 },
      { startedAt: clock(30), endedAt: clock(60), picks: 30 },
    ])
  })

  test('leaves time out that a sitting at another piece has, and keeps the picks', () => {
    const other = { ...NOTHING, elsewhere: [{ from: clock(20), to: clock(30) }] }
    const { sittings } = sittingsFromSteps(told, DEFAULT_LIMITS, other)
    expect(sittings.map(({ minutes }) => minutes)).toEqual([20, 30])
    expect(sittings.reduce((sum, { picks }) => sum + picks, 0)).toBe(61)
  })
})

const kind = fc.constantFrom<StepKind>('woven', 'woven', 'woven', 'woven', 'unwoven', 'back', 'slip', 'pause')
const told = fc
  .array(
    fc.tuple(fc.oneof(fc.double({ min: 0, max: 3, noNaN: true }), fc.double({ min: 0, max: 150, noNaN: true })), kind),
    {
      maxLength: 60,
    },
  )
  .map((list) => {
    let minutes = 0
    return steps(...list.map(([gap, what]) => [(minutes += gap), what] as const))
  })
const spans = fc.array(fc.tuple(fc.nat(1500), fc.integer({ min: 1, max: 120 })), { maxLength: 4 }).map((list) => {
  let from = 0
  return list.map(([gap, length]): TimeSpan => {
    from += gap + length
    return { from: clock(from - length), to: clock(from) }
  })
})
const minutesOf = ({ from, to }: TimeSpan) =>
  Array.from({ length: (Date.parse(to) - Date.parse(from)) / 60_000 }, (_, n) => Date.parse(from) / 60_000 + n)
const spanOf = ({ startedAt: from, endedAt: to }: StepSitting): TimeSpan => ({ from, to })

describe('for any steps and sittings by hand', () => {
  test('the stages together are the minutes that are covered, none of them twice', () => {
    fc.assert(
      fc.property(told, spans, spans, (list, here, elsewhere) => {
        const { sittings } = sittingsFromSteps(list, DEFAULT_LIMITS, { here, elsewhere, steps: [] })
        const byHand = [...new Set(here.flatMap(minutesOf))]
        const proposed = sittings.flatMap((sitting) => minutesOf(spanOf(sitting)))
        expect(new Set(proposed).size).toBe(proposed.length)
        const taken = new Set([...byHand, ...elsewhere.flatMap(minutesOf)])
        expect(proposed.filter((minute) => taken.has(minute))).toEqual([])
        const whole = [...sittings, { stage: 'wind', minutes: byHand.length, breakMinutes: 0 } as const]
        const total = hoursByStage(whole).reduce((sum, { hours, breakHours }) => sum + (hours + breakHours) * 60, 0)
        expect(Math.round(total)).toBe(new Set([...proposed, ...byHand]).size)
        expect(total).toBeCloseTo(Math.round(total), 9)
      }),
      { numRuns: 150 },
    )
  })

  test('every step is in a sitting or left over, and the net picks are those of the band', () => {
    fc.assert(
      fc.property(told, (list) => {
        const { sittings, rest } = sittingsFromSteps(list, DEFAULT_LIMITS)
        expect([...sittings, ...rest].reduce((sum, one) => sum + one.steps, 0)).toBe(list.length)
        const gaps = listStepGaps(list, DEFAULT_LIMITS).flat()
        expect(gaps.reduce((sum, { woven, unwoven }) => sum + woven - unwoven, 0)).toBe(list.at(-1)?.place ?? 0)
      }),
      { numRuns: 150 },
    )
  })

  test('what was approved is not proposed again, whichever part of it', () => {
    fc.assert(
      fc.property(told, fc.nat(20), (list, which) => {
        const { sittings } = sittingsFromSteps(list, DEFAULT_LIMITS)
        const one = sittings[which % Math.max(1, sittings.length)]
        if (!one) return
        const taken = { ...NOTHING, here: [spanOf(one)], steps: [{ from: one.stepsFrom, to: one.stepsTo }] }
        const again = sittingsFromSteps(list, DEFAULT_LIMITS, taken).sittings
        const own = new Set(minutesOf(spanOf(one)))
        expect(again.flatMap((sitting) => minutesOf(spanOf(sitting))).filter((minute) => own.has(minute))).toEqual([])
        expect(again.every(({ stepsFrom, stepsTo }) => stepsFrom > one.stepsTo || stepsTo < one.stepsFrom)).toBe(true)
      }),
      { numRuns: 150 },
    )
  })
})
