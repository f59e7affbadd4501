export interface Sample {
  readonly name: string
  /** Median of the rounds, milliseconds. */
  readonly ms: number
}

/**
 * Rounds of several tasks, turn by turn, so that a slow stretch of the machine falls on all of them; the medians.
 * Only ratios within one run mean something.
 */
export function takeTurns(tasks: Readonly<Record<string, () => void>>, rounds: number): Record<string, Sample> {
  const times = new Map<string, number[]>()
  for (const [name, task] of Object.entries(tasks)) {
    task()
    times.set(name, [])
  }
  for (let round = 0; round < rounds; round += 1) {
    for (const [name, task] of Object.entries(tasks)) {
      const from = performance.now()
      task()
      times.get(name)!.push(performance.now() - from)
    }
  }
  return Object.fromEntries([...times].map(([name, all]) => [name, { name, ms: median(all) }]))
}

function median(values: number[]): number {
  const sorted = values.toSorted((left, right) => left - right)
  return sorted[Math.floor(sorted.length / 2)]!
}
