import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { readTurning } from '../../shared/draft/turning.ts'
import { cordTakeUp } from '../../shared/yarn/take-up-geometry.ts'
import { twistAngle } from '../../shared/yarn/twist.ts'
import { expectWithin } from '../measure/reference.ts'

function turning(tablets: number, ...lines: string[]) {
  const read = readTurning(lines, tablets)
  if (!read.ok) throw new Error(read.problems[0]!.message)
  return read.turning
}

describe('cordTakeUp(turning, threads)', () => {
  test('is that of a helix of a quarter turn a pick: 1 / cos of its angle (published geometry of the helix)', () => {
    const size = fc.double({ min: 0.1, max: 3, noNaN: true })
    fc.assert(
      fc.property(size, size, size, (pickMm, warpMm, weftMm) => {
        const [percent] = cordTakeUp(turning(1, '1F'), { pickMm, warpMm, weftMm })
        const angle = twistAngle(warpMm + weftMm, 250 / pickMm)
        expectWithin(1 + percent! / 100, 1 / Math.cos((angle * Math.PI) / 180), 1e-9)
      }),
    )
  })

  test('turning 18.1 %, half of the time idle half as much, never turning none, either way alike', () => {
    const threads = { pickMm: 1, warpMm: 0.4, weftMm: 0.4 }
    const [steady, resting, idle, back] = cordTakeUp(turning(4, '2F 1I 1B', '1F 2I 1B'), threads)
    expect(steady).toBeCloseTo(18.1, 1)
    expect(resting).toBeCloseTo(steady! / 2, 12)
    expect(idle).toBe(0)
    expect(back).toBe(steady)
  })

  test('a half turn takes more than two quarter turns of two picks, for it has one pick to do it in', () => {
    const threads = { pickMm: 1, warpMm: 0.4, weftMm: 0.4 }
    const [half] = cordTakeUp(turning(1, '1(2F)', '1I'), threads)
    expect(half).toBeGreaterThan(cordTakeUp(turning(1, '1F', '1F'), threads)[0]!)
  })

  test('refuses a pick of no length', () => {
    expect(() => cordTakeUp(turning(1, '1F'), { pickMm: 0, warpMm: 1, weftMm: 1 })).toThrow('pickMm must be more')
  })
})
