import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { learn } from '../../shared/plan/learned.ts'
import { sayGroups, windingOrder } from '../../shared/plan/winding-order.ts'

describe('windingOrder(holes)', () => {
  test('takes each colour up once, in the order in which the tablets need them', () => {
    const steps = windingOrder([
      ['m', 'm', 'm', 'm'],
      ['m', 'm', 'w', 'w'],
      ['m', 'm', null, 'w'],
    ])
    expect(steps.map(({ colour, ends }) => [colour, ends])).toEqual([
      ['m', 8],
      ['w', 3],
    ])
    expect(steps.map(({ groups }) => sayGroups(groups))).toEqual([
      '4 for tablet 1; 2 each for tablets 2, 3',
      '2 for tablet 2; 1 for tablet 3',
    ])
  })

  test('winds every threaded hole once, whatever the threading', () => {
    const hole = fc.constantFrom('a', 'b', '7', null)
    fc.assert(
      fc.property(fc.array(fc.tuple(hole, hole, hole, hole), { minLength: 1, maxLength: 60 }), (holes) => {
        const steps = windingOrder(holes)
        const threaded = holes.flat().filter((key) => key !== null)
        expect(new Set(steps.map(({ colour }) => colour)).size).toBe(steps.length)
        for (const { colour, ends, groups } of steps) {
          expect(ends).toBe(threaded.filter((key) => key === colour).length)
          expect(groups.reduce((sum, { each, tablets }) => sum + each * tablets.length, 0)).toBe(ends)
        }
        expect(steps.reduce((sum, { ends }) => sum + ends, 0)).toBe(threaded.length)
      }),
    )
  })
})

test('learn(values) gives mean and spread with n, no spread of one, and nothing of none', () => {
  expect(learn([])).toBeNull()
  expect(learn([1.2])).toEqual({ mean: 1.2, s: null, n: 1 })
  expect(learn([1, 2, 3])).toEqual({ mean: 2, s: 1, n: 3 })
})
