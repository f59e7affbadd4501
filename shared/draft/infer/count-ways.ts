import type { BestWays } from './best-ways.ts'

/** How many best turnings lead from the start to each place, and from it to the end. */
export interface WayCounts {
  readonly total: bigint
  /** How many best turnings take a step. */
  readonly through: (step: number) => bigint
}

/**
 * Counts the best turnings, exactly. Plain numbers are used while the total is one that they hold exactly; no count at
 * any place is larger than the total, because every place lies on a path to the end.
 * @example for one place with two steps a pick over 100 picks: total 2n ** 100n
 */
export function countWays(ways: BestWays): WayCounts {
  const numbers = flow<number>(ways, 1, 0, (a, b) => a + b)
  if (numbers.total <= Number.MAX_SAFE_INTEGER) {
    const { before, after } = numbers
    return {
      total: BigInt(numbers.total),
      through: (step) => BigInt(before[ways.from[step]!]!) * BigInt(after[ways.to[step]!]!),
    }
  }
  const { total, before, after } = flow<bigint>(ways, 1n, 0n, (a, b) => a + b)
  return { total, through: (step) => before[ways.from[step]!]! * after[ways.to[step]!]! }
}

function flow<N>(
  { from, to, places, begins, picks }: BestWays,
  one: N,
  zero: N,
  add: (a: N, b: N) => N,
): { total: N; before: N[]; after: N[] } {
  const before = new Array<N>(places).fill(zero)
  const after = new Array<N>(places).fill(zero)
  before[0] = one
  for (let step = 0; step < from.length; step++) before[to[step]!] = add(before[to[step]!]!, before[from[step]!]!)
  for (let step = begins[picks - 1]!; step < to.length; step++) after[to[step]!] = one
  for (let step = from.length - 1; step >= 0; step--) {
    after[from[step]!] = add(after[from[step]!]!, after[to[step]!]!)
  }
  return { total: after[0]!, before, after }
}
