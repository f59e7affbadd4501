/** Chooses the points; others by `FAULT_SEED=7 npm test` or `FAULT_SEED=7 npm run faults`. */
export const SEED = Number(process.env.FAULT_SEED ?? 1)

/** `npm run faults`; in `npm test` there are only a few points of each kind. */
const isFull = process.env.FAULTS === 'full'

/** @returns the first in `npm run faults`, the second in `npm test` */
export const inFull = <T>(full: T, few: T): T => (isFull ? full : few)

/**
 * Chance of one test's own, so that it chooses the same whatever else is run: Marsaglia's xorshift of 32 bits, begun with
 * the FNV-1a hash of seed and name; good enough to choose by.
 * @returns from 0 up to 1, without it
 */
export function chanceOf(what: string): () => number {
  let state = 2166136261
  for (const char of `${SEED} ${what}`) state = Math.imul(state ^ char.charCodeAt(0), 16777619) >>> 0
  state ||= 1
  return () => {
    state ^= state << 13
    state ^= state >>> 17
    state ^= state << 5
    state >>>= 0
    return state / 2 ** 32
  }
}

/** So many of these, in their order; all of them where there are no more. */
export function sample<T>(items: readonly T[], most: number, chance: () => number): T[] {
  if (items.length <= most) return [...items]
  const chosen = new Set<number>()
  while (chosen.size < most) chosen.add(Math.floor(chance() * items.length))
  return items.filter((_, index) => chosen.has(index))
}

/** From 1. */
export const numbers = (to: number): number[] => Array.from({ length: to }, (_, index) => index + 1)

/** While the one program starts, what the other left is looked over. */
export async function twoAtOnce<T>(items: readonly T[], work: (item: T) => Promise<unknown>): Promise<void> {
  const waiting = items.values()
  const line = async () => {
    for (const item of waiting) await work(item)
  }
  await Promise.all([line(), line()])
}

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
