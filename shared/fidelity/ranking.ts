import { ASPECTS } from './aspect.ts'
import { boundsByAspect, totalOf, type Judged, type Total, type Weights } from './total.ts'

export interface Ranked<K> {
  readonly key: K
  readonly judged: readonly Judged[]
}

/**
 * How two pieces stand to each other.
 * `always`: the first is at least as near in every aspect and nearer in one, whatever is not known: no weights change that.
 * `underThese`: the first is nearer under these weights whatever is not known; other weights may say otherwise.
 * `open`: what is not known decides.
 */
export type Standing = 'always' | 'underThese' | 'open'

export interface Rank<K> {
  readonly key: K
  readonly total: Total
  /** How it stands to the one after it; null for the last. */
  readonly toNext: Standing | null
}

/**
 * Pieces in the order of the middle of their bounds, the nearest first, and whether that order is sure.
 * @param pieces in an order that decides between equal ones
 * @param weights as for `totalOf`
 */
export function rankBy<K>(pieces: readonly Ranked<K>[], weights: Weights): Rank<K>[] {
  const ranked = pieces
    .map(({ key, judged }) => ({ key, judged, total: totalOf(judged, weights) }))
    .sort((a, b) => b.total.low + b.total.high - (a.total.low + a.total.high))
  return ranked.map(({ key, judged, total }, index) => {
    const next = ranked[index + 1]
    return { key, total, toNext: next ? standingOf({ judged, total }, next) : null }
  })
}

type Weighed = { readonly judged: readonly Judged[]; readonly total: Total }

function standingOf(first: Weighed, second: Weighed): Standing {
  const [nearer, farther] = [boundsByAspect(first.judged), boundsByAspect(second.judged)]
  const gaps = ASPECTS.map((_, index) => nearer[index]!.low - farther[index]!.high)
  if (gaps.every((gap) => gap >= 0) && gaps.some((gap) => gap > 0)) return 'always'
  return first.total.low > second.total.high ? 'underThese' : 'open'
}

/** Two pieces that stand one way round under some weights and the other way round under others. */
export interface Turned<K> {
  readonly pair: readonly [K, K]
  /** Under these the first of the pair is before the second. */
  readonly before: readonly string[]
  readonly after: readonly string[]
}

/**
 * Where the ranking hangs on the weights: every pair whose order is not the same under all of them.
 * @param pieces to be ranked
 * @param weightings by name; equal middles under a weighting count for neither side
 * @example with one weighting the list is empty
 */
export function hangsOnWeights<K>(
  pieces: readonly Ranked<K>[],
  weightings: readonly { readonly name: string; readonly weights: Weights }[],
): Turned<K>[] {
  const middles = weightings.map(({ name, weights }) => ({
    name,
    of: pieces.map(({ judged }) => {
      const { low, high } = totalOf(judged, weights)
      return low + high
    }),
  }))
  return pieces.flatMap((first, i) =>
    pieces.slice(i + 1).flatMap((second, offset) => {
      const j = i + 1 + offset
      // What differs by less than the last digits of a sum is equal.
      const by = (sign: 1 | -1) => middles.filter(({ of }) => sign * (of[i]! - of[j]!) > 1e-12).map(({ name }) => name)
      const [before, after] = [by(1), by(-1)]
      return before.length > 0 && after.length > 0 ? [{ pair: [first.key, second.key], before, after } as const] : []
    }),
  )
}
