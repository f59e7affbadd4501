/** One thing that is timed. A task too quick for the clock repeats itself inside and says how often. */
export interface Task {
  readonly run: () => unknown
  readonly times?: number
}

/**
 * Rounds of several tasks, turn by turn, so that a slow stretch of the machine falls on all of them.
 * Only ratios within one run mean something.
 * @returns the median of the rounds, milliseconds for one time
 */
export async function takeTurns<Name extends string>(
  tasks: Readonly<Record<Name, Task>>,
  rounds: number,
): Promise<Record<Name, number>> {
  const names = Object.keys(tasks) as Name[]
  const taken = {} as Record<Name, number[]>
  for (const name of names) {
    await tasks[name].run()
    taken[name] = []
  }
  for (let round = 0; round < rounds; round += 1) {
    for (const name of names) {
      const { run, times = 1 } = tasks[name]
      const from = performance.now()
      await run()
      taken[name].push((performance.now() - from) / times)
    }
  }
  return Object.fromEntries(names.map((name) => [name, median(taken[name])])) as Record<Name, number>
}

function median(values: readonly number[]): number {
  const sorted = values.toSorted((left, right) => left - right)
  return sorted[Math.floor(sorted.length / 2)]!
}

/** A line of the report: what, how long, and against what. */
export function tell(what: string, ms: number, ...rest: readonly string[]): void {
  const time = ms < 0.1 ? `${(ms * 1000).toFixed(1)} µs` : `${ms.toFixed(2)} ms`
  console.log(`  ${what.padEnd(46)} ${time.padStart(10)}${rest.map((text) => `   ${text}`).join('')}`)
}

/** `12.3 x what` */
export const asRatio = (ms: number, baseMs: number, base: string) => `${(ms / baseMs).toFixed(1)} x ${base}`
export const inKb = (text: string) => `${(Buffer.byteLength(text) / 1000).toFixed(0)} kB`
