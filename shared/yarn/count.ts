import { requireFinite, requirePositive, requireWhole } from '../measure/argument.ts'
import { sumOf } from '../measure/univariate.ts'

/** The count systems, by the names that the exchange of data uses. */
export type CountSystem =
  | 'tex'
  | 'dtex'
  | 'ktex'
  | 'denier'
  | 'Nm'
  | 'NeC'
  | 'NeW'
  | 'NeL'
  | 'run'
  | 'YSW'
  | 'spyndle'
  | 'dram'
  | 'ydPerLb'
  | 'mPer100g'

export interface CountFacts {
  readonly label: string
  readonly definition: string
  /** Direct systems weigh a length (tex = factor x count), indirect ones measure a weight (tex = factor / count). */
  readonly direct: boolean
  readonly texFactor: number
}

const M_PER_YD = 0.9144
const G_PER_LB = 453.59237

/**
 * The systems with their factor to tex, from their definitions, 1 yd = 0.9144 m and 1 lb = 453.59237 g exactly; no
 * moisture regain is folded in.
 * Source of the definitions: ASTM D2260, table 1 (tex to run); J. T. Taylor, Cotton Weaving and Designing, 1909, p. 238
 * (dram); the rest as given in general tables of yarn counts.
 */
export const COUNT_SYSTEMS: Readonly<Record<CountSystem, CountFacts>> = {
  tex: direct('tex', 'grams in 1000 m', 1, 1000),
  dtex: direct('dtex', 'grams in 10 000 m', 1, 10_000),
  ktex: direct('ktex', 'grams in a metre', 1, 1),
  denier: direct('denier', 'grams in 9000 m', 1, 9000),
  Nm: indirect('Nm (metric)', 'metres in a gram', 1, 1),
  NeC: perPound('Ne (cotton)', 'hanks of 840 yd in a pound', 840),
  NeW: perPound('Ne (worsted)', 'hanks of 560 yd in a pound', 560),
  NeL: perPound('lea (linen)', 'leas of 300 yd in a pound', 300),
  run: perPound('run (US woollen)', 'runs of 1600 yd in a pound', 1600),
  YSW: perPound('YSW (Yorkshire woollen)', 'skeins of 256 yd in a pound', 256),
  spyndle: direct('spyndle (jute, dry-spun flax)', 'pounds in 14 400 yd', G_PER_LB, 14_400 * M_PER_YD),
  dram: direct('dram (silk)', 'drams in 1000 yd', G_PER_LB / 256, 1000 * M_PER_YD),
  ydPerLb: perPound('yd/lb', 'yards in a pound', 1),
  mPer100g: indirect('m/100 g', 'metres in 100 grams', 1, 100),
}

/**
 * Linear density in tex of a yarn whose count is given.
 * @param value the count, more than zero
 * @param system what it counts
 * @returns tex, unrounded
 * @throws RangeError when the value is not above zero, or the tex is too large for a number
 * @example texOf(30, 'NeC') // 19.6847; texOf(20, 'tex') // 20
 * Source: the definitions in `COUNT_SYSTEMS`.
 */
export function texOf(value: number, system: CountSystem): number {
  const { direct: isDirect, texFactor } = COUNT_SYSTEMS[system]
  requirePositive('value', value)
  return requireFinite('the tex', isDirect ? value * texFactor : texFactor / value)
}

/**
 * Count of a yarn whose linear density is given; the inverse of `texOf`.
 * @param tex linear density in tex, more than zero
 * @param system what to count
 * @returns the count, unrounded
 * @throws RangeError when tex is not above zero, or the count is too large for a number
 * @example countOf(30, 'Nm') // 33.333...
 */
export function countOf(tex: number, system: CountSystem): number {
  const { direct: isDirect, texFactor } = COUNT_SYSTEMS[system]
  requirePositive('tex', tex)
  return requireFinite('the count', isDirect ? tex / texFactor : texFactor / tex)
}

/**
 * A count in another system, and the linear density of the plied yarn.
 * @param value count of one single in the system `from`, more than zero
 * @param from the system it is in
 * @param to the system wanted
 * @param ply how many such singles are plied, a whole number of 1 or more
 * @returns `value`, the count of one single in `to`; `tex` of one single; `resultantTex` of the plied yarn, before the
 *   contraction that twisting brings. Mind spun silk: its number counts the plied yarn, not a single
 * @throws RangeError when value or ply is out of range
 * @example convertCount(40, 'NeC', 'NeW', 2) // value 60, tex 14.76, resultantTex 29.53
 */
export function convertCount(
  value: number,
  from: CountSystem,
  to: CountSystem,
  ply = 1,
): { value: number; tex: number; resultantTex: number } {
  requireWhole('ply', ply, 1)
  const tex = texOf(value, from)
  // A number that goes nowhere is handed back as it came.
  const converted = from === to ? value : countOf(tex, to)
  return { value: converted, tex, resultantTex: requireFinite('the resultant tex', tex * ply) }
}

/**
 * Linear density of a yarn plied from singles that may differ, before contraction.
 * @param singlesTex tex of each single, one or more, each more than zero
 * @returns their sum, in tex
 * @throws RangeError when there is none, or one is not above zero
 * @example resultantTexOf([texOf(40, 'NeC'), texOf(20, 'NeC')]) // 44.29, which is Ne 13 1/3
 * Source: linear densities add; C. P. Brooks, Cotton Manufacturing, gives 40s and 20s as 13 1/3.
 */
export function resultantTexOf(singlesTex: readonly number[]): number {
  if (singlesTex.length === 0) throw new RangeError('singlesTex must hold at least one single, not 0')
  for (const [index, tex] of singlesTex.entries()) requirePositive(`singlesTex[${index}]`, tex)
  return sumOf(singlesTex)
}

function direct(label: string, definition: string, grams: number, metres: number): CountFacts {
  return { label, definition, direct: true, texFactor: (1000 * grams) / metres }
}

function indirect(label: string, definition: string, metres: number, grams: number): CountFacts {
  return { label, definition, direct: false, texFactor: (1000 * grams) / metres }
}

function perPound(label: string, definition: string, yards: number): CountFacts {
  return indirect(label, definition, yards * M_PER_YD, G_PER_LB)
}
