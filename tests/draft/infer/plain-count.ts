import { HOLES } from '../../../shared/draft/draft.ts'
import type { InferRequest } from '../../../shared/draft/infer/request.ts'

/** The least that a tablet costs, and how many (start, turning) choices cost it. */
export interface PlainCount {
  readonly mismatches: number
  readonly reversals: number
  readonly solutions: bigint
}

/**
 * The plain way to the same figures, for repeats too long to try everything: every state that can be reached, pick by
 * pick, with its least cost and how often it is reached. Holes and threading of the tablet must be known and no hole empty.
 */
export function countPlainly({ tablets, observed, require }: InferRequest, tablet: number): PlainCount | undefined {
  const { holes, threading, start } = tablets[tablet]!
  const { closes = false, twistNeutral = false, longestFloat = Infinity } = require
  const mismatch = 1_000_000
  let layer = new Map<string, { at: number[]; cost: number; ways: bigint }>()
  for (const from of start ? [HOLES.indexOf(start)] : [0, 1, 2, 3]) {
    layer.set(String(from), { at: [from, from, 0, 0, 0], cost: 0, ways: 1n })
  }
  observed.cells.forEach((row, pick) => {
    const next: typeof layer = new Map()
    for (const { at, cost, ways } of layer.values()) {
      const [from, stand, last, run, net] = at as [number, number, number, number, number]
      for (const turn of [1, -1]) {
        const isReversal = last !== 0 && turn !== last
        const float = pick === 0 ? 1 : isReversal ? run + 1 : 2
        if (float > longestFloat) continue
        const shown = holes![turn === 1 ? stand : (stand + 3) & 3]!
        const seen = row[tablet] ?? shown
        const slant = (turn === 1) === (threading === 'S') ? '/' : '\\'
        const leans = observed.slants?.[pick]?.[tablet] ?? slant
        const wrong = (seen === shown ? 0 : mismatch) + (leans === slant ? 0 : mismatch)
        const to = [
          from,
          (stand + turn) & 3,
          turn,
          longestFloat === Infinity ? 0 : float,
          twistNeutral ? net + turn : 0,
        ]
        const whole = cost + wrong + (isReversal ? 1 : 0)
        const there = next.get(to.join())
        if (!there || whole < there.cost) next.set(to.join(), { at: to, cost: whole, ways })
        else if (whole === there.cost) there.ways += ways
      }
    }
    layer = next
  })
  const ends = [...layer.values()].filter(({ at: [from, stand, , , net] }) => net === 0 && (!closes || from === stand))
  if (ends.length === 0) return undefined
  const least = ends.reduce((most, { cost }) => Math.min(most, cost), Infinity)
  const solutions = ends.reduce((sum, { cost, ways }) => (cost === least ? sum + ways : sum), 0n)
  return { mismatches: Math.floor(least / mismatch), reversals: least % mismatch, solutions }
}
