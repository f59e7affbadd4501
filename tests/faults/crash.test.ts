import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest'
import { isFull, numbers, randomOf, sample, sayTallies, SEED, tally } from './seed.ts'
import { crashAt, expectSurvives, killAt, runUndisturbed } from './survive.ts'
import { makeTemplates, type Templates } from './template.ts'
import { WRITES } from './writes.ts'

vi.setConfig({ testTimeout: 900_000, hookTimeout: 120_000 })

let given: Templates
beforeAll(async () => void (given = await makeTemplates()))
afterAll(sayTallies)

const random = randomOf(SEED)

describe(`the program, seed ${SEED}, that dies or loses its power in the middle of`, () => {
  test.each(WRITES)('$name: all of it is there or none, and all of it once it was acknowledged', async (write) => {
    const run = await runUndisturbed(write, given)
    expect(run.calls).toBeGreaterThan(0)
    for (const n of sample(numbers(run.calls), 4, random))
      await tally('a copy in the middle of a call', () =>
        expectSurvives(crashAt(run.stage, n), [run.before, run.after], `${write.name}, call ${n}, ${run.nameOf(n)}`),
      )
    for (const n of isFull ? numbers(run.calls) : [])
      await tally('kill -9 in the middle of a call', async () => {
        const { crash, isAcknowledged } = await killAt(write, given, n)
        const allowed = isAcknowledged ? [run.after] : [run.before, run.after]
        await expectSurvives(crash, allowed, `${write.name}, killed in call ${n}`)
      })
  })
})
