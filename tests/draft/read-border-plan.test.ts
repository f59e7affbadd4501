import fc from 'fast-check'
import { expect, test } from 'vitest'
import { readBorderPlan, withBorderPlan } from '../../shared/draft/border-turning.ts'
import { LADDER } from '../plan/facts.ts'

test('readBorderPlan(written, from) reads back what withBorderPlan wrote, for any reversals', () => {
  const picks = fc.integer({ min: 5, max: 60 })
  fc.assert(
    fc.property(picks, fc.uniqueArray(fc.integer({ min: 0, max: 59 })), (length, some) => {
      const reversals = some.filter((pick) => pick < length).sort((left, right) => left - right)
      expect(readBorderPlan(withBorderPlan(LADDER, length, reversals), LADDER)).toEqual(reversals)
    }),
    { numRuns: 60 },
  )
})

test('readBorderPlan(written, from) is undefined for a draft that is another one', () => {
  const written = withBorderPlan(LADDER, 8, [4])
  const { picks } = written
  expect(readBorderPlan(written, { ...LADDER, tablets: LADDER.tablets.toReversed().slice(1) })).toBeUndefined()
  expect(readBorderPlan({ ...written, picks: [...picks.slice(0, 7), '8F'] }, LADDER)).toBeUndefined()
  expect(readBorderPlan({ ...written, picks: [...picks.slice(0, 7), '1F 1B 2F 4B'] }, LADDER)).toBeUndefined()
  expect(readBorderPlan(LADDER, LADDER)).toBeUndefined()
})
