import { requireNotNegative } from './argument.ts'

/** One part of a combined uncertainty. */
export interface UncertaintyPart {
  /** Standard uncertainty of the result that comes from this part, in the unit of the result (or relative, all alike). */
  readonly u: number
  /** Its degrees of freedom; Infinity for a part taken as known. */
  readonly df: number
}

/**
 * Combined standard uncertainty of independent parts: the root of the sum of their squares.
 * @param parts any number, all in one unit or all relative
 * @returns the combined u, unrounded; 0 for no part
 * @throws RangeError when a u is negative or not finite
 * @example combinedUncertainty([{ u: 3, df: 9 }, { u: 4, df: Infinity }]) // 5
 * Source: JCGM 100:2008, 5.1.2 equation 10.
 */
export function combinedUncertainty(parts: readonly UncertaintyPart[]): number {
  return Math.hypot(...parts.map((part, index) => requireNotNegative(`parts[${index}].u`, part.u)))
}

/**
 * Effective degrees of freedom of a combined uncertainty, by the Welch-Satterthwaite formula:
 * u_c^4 / sum(u_i^4 / df_i). Not truncated: Student's t is evaluated at the fraction (JCGM 100:2008, G.4.1 allows
 * either), and valid for independent parts only.
 * @param parts any number, all in one unit or all relative
 * @returns the effective degrees of freedom; Infinity when no part with finite df contributes
 * @throws RangeError when a u is negative or not finite, or a df is not above zero
 * @example effectiveDf([{ u: 1, df: 4 }, { u: 1, df: 4 }]) // 8; effectiveDf([{ u: 0, df: 2 }]) // Infinity
 * Source: JCGM 100:2008, G.4.1 equation G.2b.
 */
export function effectiveDf(parts: readonly UncertaintyPart[]): number {
  for (const [index, { df }] of parts.entries())
    if (!(df > 0)) throw new RangeError(`parts[${index}].df must be more than zero, not ${df}`)
  const combined = combinedUncertainty(parts)
  if (combined === 0) return Infinity
  // Shares first: fourth powers of very small uncertainties would otherwise vanish.
  const sum = parts.reduce((total, part) => total + (part.u / combined) ** 4 / part.df, 0)
  return 1 / sum
}
