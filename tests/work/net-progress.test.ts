import { describe, expect, test } from 'vitest'
import { toPaceSittings, type StagedSitting } from '../../shared/work/net-progress.ts'
import { paceOf } from '../../shared/work/pace.ts'

const at = (stage: StagedSitting['stage'], minutes: number, done: Partial<StagedSitting> = {}): StagedSitting => ({
  stage,
  minutes,
  breakMinutes: 0,
  ...done,
})

describe('toPaceSittings(sittings)', () => {
  test('takes what was unwoven off the sitting that wove it and keeps the time of unweaving', () => {
    const net = toPaceSittings([at('weave', 60, { picks: 80 }), at('unweave', 20, { picks: 10 })])
    expect(net).toEqual([
      { minutes: 60, breakMinutes: 0, picks: 70 },
      { minutes: 20, breakMinutes: 0, picks: 0 },
    ])
    // 70 picks in 80 minutes
    expect(paceOf(net).picksPerHour).toBeCloseTo(52.5, 12)
  })

  test('goes on to the sitting before when more was unwoven than the last one wove', () => {
    const net = toPaceSittings([
      at('weave', 60, { repeats: 3 }),
      at('weave', 60, { repeats: 1 }),
      at('unweave', 30, { repeats: 2 }),
    ])
    expect(net.map(({ repeats }) => repeats)).toEqual([2, 0, 0])
  })

  test('takes nothing off what is woven after the unweaving', () => {
    const net = toPaceSittings([
      at('weave', 60, { picks: 5 }),
      at('unweave', 30, { picks: 9 }),
      at('weave', 60, { picks: 40 }),
    ])
    expect(net.map(({ picks }) => picks)).toEqual([0, 0, 40])
  })

  test('counts the time of an unweaving in every unit of the weaving, also when it states none', () => {
    const net = toPaceSittings([at('weave', 60, { picks: 80, lengthMm: 100 }), at('unweave', 60)])
    expect(net[1]).toEqual({ minutes: 60, breakMinutes: 0, picks: 0, lengthMm: 0 })
    expect(paceOf(net).mmPerHour).toBe(50)
  })

  test('leaves a unit that no weaving states unstated', () => {
    const net = toPaceSittings([at('weave', 60, { repeats: 2 }), at('unweave', 10, { picks: 4 })])
    expect(net[1]).toEqual({ minutes: 10, breakMinutes: 0, repeats: 0 })
    expect(paceOf(net).picksPerHour).toBeNull()
  })

  test('leaves out every other stage, samples too, and changes nothing it was given', () => {
    const sittings = [
      at('sample', 60, { picks: 50 }),
      at('weave', 30, { picks: 40 }),
      at('unweave', 5, { picks: 1 }),
      at('wind', 90),
    ]
    const before = structuredClone(sittings)
    expect(toPaceSittings(sittings)).toHaveLength(2)
    expect(sittings).toEqual(before)
  })
})
