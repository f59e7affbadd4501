import { rmSync } from 'node:fs'
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest'
import { chanceOf, inFull, numbers, sample, sayTallies, SEED, tally, twoAtOnce } from './seed.ts'
import { crashAt, expectSurvives, killAt, runUndisturbed } from './survive.ts'
import { makeTemplates, type Templates } from './template.ts'
import { WRITES } from './writes.ts'

vi.setConfig({ testTimeout: 1_800_000, hookTimeout: 300_000 })

let given: Templates
beforeAll(async () => void (given = await makeTemplates()))
afterAll(sayTallies)

describe(`the program, seed ${SEED}, that dies or loses its power in the middle of`, () => {
  const chosen = sample(WRITES, inFull(WRITES.length, 3), chanceOf('crash'))
  test.each(chosen)('$name: all of it is there or none, and all of it once it was acknowledged', async (write) => {
    const chance = chanceOf(`crash ${write.name}`)
    const run = await runUndisturbed(write, given, chance)
    expect(run.copied.length).toBeGreaterThan(0)
    for (const n of sample(run.copied, inFull(6, 3), chance))
      await tally('a copy in the middle of a call', () =>
        expectSurvives(crashAt(run.stage, n), [run.before, run.after], `${write.name}, call ${n}, ${run.nameOf(n)}`),
      )
    rmSync(run.stage.shim.copies, { recursive: true })
    const all = numbers(run.calls)
    const swept = sample(all, write.isSwept ? inFull(all.length, 1) : inFull(2, 1), chance)
    await twoAtOnce(swept, (n) =>
      tally('kill -9 in the middle of a call', async () => {
        const { crash, isAcknowledged } = await killAt(write, given, n)
        const allowed = isAcknowledged ? [run.after] : [run.before, run.after]
        await expectSurvives(crash, allowed, `${write.name}, killed in call ${n}, ${run.nameOf(n)}`)
      }),
    )
  })
})
