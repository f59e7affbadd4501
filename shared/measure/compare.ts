import { findMissing, findNeed, type Need } from './comparison-need.ts'
import { knownQuantity, type KnownQuantity, type Quantity } from './quantity.ts'
import { ratioOf } from './ratio.ts'

export type Verdict = 'agrees' | 'larger' | 'smaller' | 'undecided'

export interface Comparison {
  readonly original: ComparedSide
  readonly replica: ComparedSide
  /** Replica over original. */
  readonly ratio: number
  /** Standard uncertainty of the ratio; null when one cannot be stated. */
  readonly uRatio: number | null
  /** Coverage factor for 95 %; null without an interval, and when both sides are exact. */
  readonly k: number | null
  /** 95 % interval of the ratio, `[ratio, ratio]` when both sides are exact; null when none can be stated. */
  readonly interval: readonly [number, number] | null
  /** Effective degrees of freedom; null when they are infinite (k is 1.96 then) or there is no k. */
  readonly df: number | null
  readonly verdict: Verdict
  /** What would decide it; null when it is decided. */
  readonly needs: Need | null
  /** Cautions that do not change the verdict, as sentences. */
  readonly notes: readonly string[]
}

export interface ComparedSide {
  readonly mean: number
  /** Standard uncertainty of the mean; null when none can be stated. */
  readonly u: number | null
  /** Number of readings; null for a stated value without it. */
  readonly n: number | null
}

/**
 * An interval that holds 1 but reaches further than this from the ratio says nothing: it could not tell a replica from
 * one a quarter wider. Our own rule.
 */
export const WIDEST_AGREEMENT = 0.25

/**
 * A replica beside its original: the ratio replica/original with its 95 % interval, and a verdict.
 * `larger` and `smaller`: the interval lies wholly above or below 1. `agrees`: it holds 1 and reaches no further than 0.25
 * either side of the ratio. `undecided`: it reaches further, or a side has no uncertainty, or the readings of a side are all
 * alike without a resolution and nothing else is uncertain. When both sides are exact (u of 0, as with counts) the
 * two are equal or not.
 * @param original readings or a stated value, above zero; see `Quantity`
 * @param replica the same in the same unit
 * @param correlation between the two means, 0 unless both were read together; see `ratioOf`
 * @returns every figure unrounded; never NaN or Infinity
 * @throws RangeError naming the argument when a value is zero, negative or not finite
 * @example compareQuantities({ value: 13, u: 0.2 }, { readings: [19.8, 20.1, 20.1], resolution: 0.5 }).verdict // 'larger'
 * @example compareQuantities({ value: 13 }, { readings: [20] }).verdict // 'undecided', and needs.side is 'both'
 * @example compareQuantities({ value: 21, u: 0 }, { value: 21, u: 0 }) // ratio 1, interval [1, 1], k null, 'agrees'
 * Source: JCGM 100:2008, 5.1.6, 5.2.2, G.4.1; the verdict is our own.
 */
export function compareQuantities(original: Quantity, replica: Quantity, correlation = 0): Comparison {
  const sides = { original: knownQuantity('original', original), replica: knownQuantity('replica', replica) }
  const found = ratioOf(sides.replica, sides.original, correlation)
  const base = { original: toSide(sides.original), replica: toSide(sides.replica), ratio: found.ratio }
  const missing = findMissing(sides, found.uRatio)
  if (missing)
    return { ...base, uRatio: null, k: null, interval: null, df: null, verdict: 'undecided', needs: missing, notes: [] }

  const { ratio, uRatio, k, interval } = found
  const df = k !== null && Number.isFinite(found.df) ? found.df : null
  const [low, high] = interval
  const verdict =
    low > 1 ? 'larger' : high < 1 ? 'smaller' : (high - low) / 2 > WIDEST_AGREEMENT ? 'undecided' : 'agrees'
  const needs = verdict === 'undecided' ? findNeed(sides, ratio, WIDEST_AGREEMENT) : null
  const notes = (['original', 'replica'] as const)
    .filter((name) => sides[name].isAlike)
    .map((name) => `All readings of the ${name} are alike and no resolution is given, so the interval is too narrow.`)
  return { ...base, uRatio, k, interval, df, verdict, needs, notes }
}

function toSide({ mean, u, n }: KnownQuantity): ComparedSide {
  return { mean, u, n }
}
