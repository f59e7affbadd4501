import { requireNotNegative } from '../measure/argument.ts'
import { ASPECTS, type Aspect, type Place } from './aspect.ts'
import { RELATION_BOUNDS, type Bounds, type Relation } from './relation.ts'

/** What a maker found of one aspect at one place. */
export interface Judged {
  readonly aspect: Aspect
  readonly place: Place
  readonly relation: Relation
}

/** How much each aspect counts; only their proportions matter. */
export type Weights = Readonly<Record<Aspect, number>>

export const EQUAL_WEIGHTS: Weights = {
  ...{ fibre: 1, spinning: 1, dye: 1, density: 1, structure: 1 },
  ...{ pattern: 1, dimensions: 1, tools: 1, finishing: 1 },
}

export interface AspectBounds extends Bounds {
  readonly aspect: Aspect
  /** Judgements behind it, those that say nothing yet left out. */
  readonly n: number
  /** Judgements there could be. */
  readonly of: number
}

/** Likeness over all aspects, between its bounds and with its parts; never one number. */
export interface Total extends Bounds {
  readonly parts: readonly AspectBounds[]
  /** Share of the whole weight that falls on aspects of which nothing is known: it goes in as 0 and as 1. */
  readonly openShare: number
}

/**
 * Likeness by aspect: the mean over the places at which it is judged.
 * @param judged each place of an aspect once
 * @returns every aspect in order; one that nobody judged is 0 to 1
 * @example boundsByAspect([{ aspect: 'tools', place: 'whole', relation: 'near' }]).find((part) => part.aspect === 'tools') // 0.5 to 1
 */
export function boundsByAspect(judged: readonly Judged[]): AspectBounds[] {
  return ASPECTS.map((aspect) => {
    const found = judged.filter((one) => one.aspect === aspect)
    const n = found.filter(({ relation }) => relation !== 'notJudged').length
    if (found.length === 0) return { aspect, low: 0, high: 1, n, of: 0 }
    const mean = (end: keyof Bounds) =>
      found.reduce((sum, { relation }) => sum + RELATION_BOUNDS[relation][end], 0) / found.length
    return { aspect, low: mean('low'), high: mean('high'), n, of: found.length }
  })
}

/**
 * The total under some weights, as an interval: the mean of the aspects by weight, once with all that is unknown taken as
 * worst and once as best. The bounds are bounds and no confidence interval: nothing is said of where between them it lies.
 * @param judged each place of an aspect once
 * @param weights zero or more, at least one above zero
 * @throws RangeError when a weight is negative or not finite, or none is above zero
 * @example totalOf([], EQUAL_WEIGHTS) // 0 to 1, openShare 1
 */
export function totalOf(judged: readonly Judged[], weights: Weights): Total {
  for (const aspect of ASPECTS) requireNotNegative(`weights.${aspect}`, weights[aspect])
  const whole = ASPECTS.reduce((sum, aspect) => sum + weights[aspect], 0)
  if (whole === 0) throw new RangeError('weights must hold at least one above zero, not zeros alone')
  const parts = boundsByAspect(judged)
  const mean = (of: (part: AspectBounds) => number) =>
    parts.reduce((sum, part) => sum + weights[part.aspect] * of(part), 0) / whole
  return {
    low: mean(({ low }) => low),
    high: mean(({ high }) => high),
    parts,
    openShare: mean(({ low, high }) => (low === 0 && high === 1 ? 1 : 0)),
  }
}
