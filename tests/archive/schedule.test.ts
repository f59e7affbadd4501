import { existsSync, utimesSync } from 'node:fs'
import { expect, test } from 'vitest'
import { scheduleStages } from '../../server/archive/schedule.ts'
import { makeStage } from '../../server/archive/staging.ts'
import { makeDataDir, NOW } from '../support/start.ts'

const HOUR_MS = 3_600_000
const hoursAgo = (hours: number) => new Date(NOW.getTime() - hours * HOUR_MS)

test('scheduleStages(options) clears away at once what nobody came back to within a day, and nothing younger', () => {
  const dataDir = makeDataDir()
  const [old, young] = [makeStage(dataDir).folder, makeStage(dataDir).folder]
  utimesSync(old, hoursAgo(25), hoursAgo(25))
  utimesSync(young, hoursAgo(23), hoursAgo(23))
  const broken: unknown[] = []
  scheduleStages({ dataDir, now: () => NOW, onBroken: (error) => void broken.push(error) })()
  expect([existsSync(old), existsSync(young)]).toEqual([false, true])
  expect(broken).toEqual([])
})
