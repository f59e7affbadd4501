import { describe, expect, test } from 'vitest'
import { hoursByStage, paceOf, quarterTurnsPerHour, workedMinutes } from '../../shared/work/pace.ts'
import { STAGE_LABELS, STAGES } from '../../shared/work/stage.ts'
import { expectWithin } from '../measure/reference.ts'

describe('paceOf(sittings)', () => {
  // Common practice, no source: two repeats of 9 cm in an hour and a half are 12 cm/h.
  test('two repeats of 9 cm in an hour and a half are 45 minutes a repeat and 12 cm/h', () => {
    const pace = paceOf([{ minutes: 90, breakMinutes: 0, repeats: 2, lengthMm: 180 }])
    expect(pace).toMatchObject({ minutesPerRepeat: 45, mmPerHour: 120, picksPerHour: null, learning: null })
  })

  test('takes the breaks off', () => {
    expect(paceOf([{ minutes: 120, breakMinutes: 30, repeats: 2, picks: 144 }])).toMatchObject({
      minutesPerRepeat: 45,
      picksPerHour: 96,
    })
  })

  test('rests each rate on those sittings alone that state its unit, and says on which', () => {
    const pace = paceOf([
      { minutes: 60, breakMinutes: 0, picks: 100 },
      { minutes: 70, breakMinutes: 10, picks: 80, repeats: 1 },
      { minutes: 600, breakMinutes: 0 },
    ])
    expect(pace).toMatchObject({ picksPerHour: 90, minutesPerRepeat: 60, mmPerHour: null })
    expect(pace.base).toEqual({
      picks: { minutes: 120, n: 2 },
      repeats: { minutes: 60, n: 1 },
      lengthMm: { minutes: 0, n: 0 },
    })
  })

  test('counts the time of a sitting that finished no repeat, if it says so', () => {
    const sitting = { minutes: 60, breakMinutes: 0 }
    expect(
      paceOf([
        { ...sitting, repeats: 2 },
        { ...sitting, repeats: 0 },
      ]).minutesPerRepeat,
    ).toBe(60)
    expect(paceOf([{ ...sitting, repeats: 2 }, sitting]).minutesPerRepeat).toBe(30)
  })

  test('states no rate where there is nothing to divide by', () => {
    expect(paceOf([])).toMatchObject({ minutesPerRepeat: null, picksPerHour: null, mmPerHour: null, learning: null })
    expect(paceOf([{ minutes: 60, breakMinutes: 0, repeats: 0 }]).minutesPerRepeat).toBeNull()
    expect(paceOf([{ minutes: 60, breakMinutes: 60, picks: 0, lengthMm: 0 }])).toMatchObject({
      picksPerHour: null,
      mmPerHour: null,
    })
  })

  test('learns from four sittings on, one point a sitting at the middle of the repeats it covers', () => {
    // Repeats 1; 2 to 3 (middle 2.5); 4 to 6 (5); 7 to 10 (8.5): an 80 % curve at exactly these places.
    const middles = [1, 2.5, 5, 8.5]
    const sittings = middles.map((middle, index) => {
      const repeats = index + 1
      return { minutes: repeats * 100 * 0.8 ** Math.log2(middle) + 5, breakMinutes: 5, repeats }
    })
    const { learning } = paceOf(sittings)
    expectWithin(learning?.firstRepeatMinutes, 100, 1e-12)
    expectWithin(learning?.ratePerDoubling, 0.8, 1e-12)
    expectWithin(learning?.exponent, Math.log2(0.8), 1e-12)
    expect(learning?.n).toBe(4)
    expect(paceOf(sittings.slice(0, 3)).learning).toBeNull()
  })

  test('leaves a sitting without a finished repeat out of the learning', () => {
    const sittings = [1, 2, 3, 4].map(() => ({ minutes: 30, breakMinutes: 0, repeats: 1 }))
    const idle = { minutes: 500, breakMinutes: 0, repeats: 0 }
    expect(paceOf([...sittings, idle]).learning).toEqual(paceOf(sittings).learning)
    expect(paceOf([idle, idle, ...sittings.slice(0, 2)]).learning).toBeNull()
  })

  test.each([
    [{ minutes: -1, breakMinutes: 0 }, /sittings\[1\]\.minutes/],
    [{ minutes: NaN, breakMinutes: 0 }, /sittings\[1\]\.minutes/],
    [{ minutes: 60, breakMinutes: -1 }, /sittings\[1\]\.breakMinutes/],
    [{ minutes: 60, breakMinutes: 61 }, /sittings\[1\]\.breakMinutes must be at most its minutes \(60\), not 61/],
    [{ minutes: 60, breakMinutes: 0, picks: -1 }, /sittings\[1\]\.picks/],
    [{ minutes: 60, breakMinutes: 0, repeats: Infinity }, /sittings\[1\]\.repeats/],
    [{ minutes: 60, breakMinutes: 0, lengthMm: NaN }, /sittings\[1\]\.lengthMm/],
  ])('refuses %o, naming the sitting and the field', (bad, message) => {
    expect(() => paceOf([{ minutes: 60, breakMinutes: 0 }, bad])).toThrow(message)
    expect(() => paceOf([{ minutes: 60, breakMinutes: 0 }, bad])).toThrow(RangeError)
  })
})

test('workedMinutes of a sitting that was all break is 0', () => {
  expect(workedMinutes({ minutes: 90, breakMinutes: 90 })).toBe(0)
})

test('quarterTurnsPerHour of 96 picks with 21 tablets each is 2016', () => {
  expect(quarterTurnsPerHour(96, 21)).toBe(2016)
  expect(quarterTurnsPerHour(96, 0)).toBe(0)
  expect(() => quarterTurnsPerHour(-1, 21)).toThrow(/picksPerHour/)
  expect(() => quarterTurnsPerHour(96, NaN)).toThrow(/quarterTurnsPerPick/)
})

test('hoursByStage gives a row for each stage that occurs, in the order of the work', () => {
  expect(
    hoursByStage([
      { stage: 'weave', minutes: 90, breakMinutes: 30 },
      { stage: 'wind', minutes: 45, breakMinutes: 0 },
      { stage: 'weave', minutes: 120, breakMinutes: 0 },
    ]),
  ).toEqual([
    { stage: 'wind', hours: 0.75, breakHours: 0, n: 1 },
    { stage: 'weave', hours: 3, breakHours: 0.5, n: 2 },
  ])
  expect(hoursByStage([])).toEqual([])
})

test('STAGES each have a label of their own', () => {
  expect(new Set(STAGES.map((stage) => STAGE_LABELS[stage])).size).toBe(9)
})
