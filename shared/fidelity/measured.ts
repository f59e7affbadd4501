import type { Comparison } from '../measure/compare.ts'
import type { Relation } from './relation.ts'

/**
 * How far from the original still counts as near, as a share of it. A convention of this program with no source; the page
 * says it, and the maker's own judgement goes before it.
 */
export const NEAR_WITHIN = 0.1

/**
 * What a measured ratio proposes: the same where the two agree within their uncertainty and that uncertainty could have
 * told a difference as large as `NEAR_WITHIN`; near where the ratio lies within it; else substituted.
 * @param found from `compareQuantities`, replica over original
 * @example a ratio of 1.04 whose interval is 1.01 to 1.07 is near; 1.02 with 0.97 to 1.07 the same; 1.02 with 0.6 to 1.4 not judged
 */
export function proposeRelation({
  ratio,
  interval,
  uRatio,
}: Pick<Comparison, 'ratio' | 'interval' | 'uRatio'>): Relation {
  const off = Math.abs(ratio - 1)
  if (uRatio === 0) return off === 0 ? 'same' : off <= NEAR_WITHIN ? 'near' : 'substituted'
  if (!interval) return 'notJudged'
  const [low, high] = interval
  if (low <= 1 && high >= 1) return high - low <= 2 * NEAR_WITHIN ? 'same' : 'notJudged'
  return off <= NEAR_WITHIN ? 'near' : 'substituted'
}

const WORST_FIRST: readonly Relation[] = ['substituted', 'notJudged', 'near', 'same']

/**
 * What several measured features of one aspect propose together: the least like of them.
 * @returns undefined for none
 */
export const proposeTogether = (relations: readonly Relation[]): Relation | undefined =>
  WORST_FIRST.find((relation) => relations.includes(relation))
