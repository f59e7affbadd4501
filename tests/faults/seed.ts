/** Of the sample; another one by `FAULT_SEED=7 npm test`. */
export const SEED = Number(process.env.FAULT_SEED ?? 1)

/** Every point, and not a sample of them: `npm run faults`. */
export const isFull = process.env.FAULTS === 'full'

/** Marsaglia's xorshift of 32 bits: repeatable, and good enough to choose by. @returns from 0 up to 1, without it */
export function randomOf(seed: number): () => number {
  let state = (seed * 2654435761) >>> 0 || 1
  return () => {
    state ^= state << 13
    state ^= state >>> 17
    state ^= state << 5
    state >>>= 0
    return state / 2 ** 32
  }
}

/** So many of these, in their order; all of them in the full sweep. */
export function sample<T>(items: readonly T[], most: number, random: () => number): T[] {
  if (isFull || items.length <= most) return [...items]
  const chosen = new Set<number>()
  while (chosen.size < most) chosen.add(Math.floor(random() * items.length))
  return items.filter((_, index) => chosen.has(index))
}

/** From 1. */
export const numbers = (to: number): number[] => Array.from({ length: to }, (_, index) => index + 1)

const tallies = new Map<string, { tried: number; passed: number }>()

/** Counts a point that was tried; one that fails throws, and is counted as tried alone. */
export async function tally<T>(what: string, work: () => T | Promise<T>): Promise<T> {
  const counted = tallies.get(what) ?? { tried: 0, passed: 0 }
  tallies.set(what, counted)
  counted.tried += 1
  const result = await work()
  counted.passed += 1
  return result
}

/** How many points were tried, in one line each; for the end of a file of tests. */
export function sayTallies(): void {
  for (const [what, { tried, passed }] of tallies)
    process.stdout.write(`faults: ${what}: ${tried} points, ${passed} passed (seed ${SEED})\n`)
  tallies.clear()
}
