import { describe, expect, test } from 'vitest'
import { fillProgress } from '../../shared/work/fill-progress.ts'
import { toPaceSittings } from '../../shared/work/net-progress.ts'
import { paceOf } from '../../shared/work/pace.ts'

const weave = { stage: 'weave', minutes: 60, breakMinutes: 0 } as const

describe('fillProgress(sittings, repeat)', () => {
  test('gives picks and length to a sitting that counted repeats', () => {
    expect(fillProgress([{ ...weave, repeats: 2 }], { picks: 72, lengthMm: 90 })).toEqual([
      { ...weave, repeats: 2, picks: 144, lengthMm: 180 },
    ])
  })

  test('gives repeats to a sitting that counted picks, and never touches what it states', () => {
    expect(fillProgress([{ ...weave, picks: 36, lengthMm: 50 }], { picks: 72, lengthMm: 90 })).toEqual([
      { ...weave, picks: 36, repeats: 0.5, lengthMm: 50 },
    ])
  })

  test('leaves a sitting alone that states nothing, and units that nothing is known of', () => {
    expect(fillProgress([weave], { picks: 72, lengthMm: 90 })).toEqual([weave])
    expect(fillProgress([{ ...weave, lengthMm: 50 }], { picks: 72 })).toEqual([{ ...weave, lengthMm: 50 }])
    expect(fillProgress([{ ...weave, repeats: 1 }], {})).toEqual([{ ...weave, repeats: 1 }])
  })

  test('refuses a repeat of no picks', () => {
    expect(() => fillProgress([weave], { picks: 0 })).toThrow('repeat.picks')
  })

  test('common practice, no source: two repeats of 72 picks in 9 cm each, in an hour and a half, are 12 cm and 96 picks an hour', () => {
    const filled = fillProgress([{ ...weave, minutes: 100, breakMinutes: 10, repeats: 2 }], { picks: 72, lengthMm: 90 })
    expect(paceOf(toPaceSittings(filled))).toMatchObject({ minutesPerRepeat: 45, picksPerHour: 96, mmPerHour: 120 })
  })
})
