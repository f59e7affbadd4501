import { requirePositive, requireWhole } from '../measure/argument.ts'

/**
 * Diameter of a yarn from its wraps: threads laid side by side round a rule, just touching.
 * @param wraps how many lay there, a whole number of 1 or more
 * @param lengthMm along how much of the rule, in mm, more than zero
 * @returns mm, unrounded. An estimate: how tightly it is wrapped changes it more than the yarn does
 * @throws RangeError when an argument is out of range
 * @example diameterFromWraps(20, 25.4) // 1.27, twenty wraps to the inch
 * Source: the definition of wraps per length.
 */
export function diameterFromWraps(wraps: number, lengthMm: number): number {
  return requirePositive('lengthMm', lengthMm) / requireWhole('wraps', wraps, 1)
}

/** How a yarn that is wrapped until no more will go in compares with the length it gives, by the kind of yarn. */
export const WRAP_ALLOWANCE = { worsted: 0.1, woollen: 0.16, silk: 0.07, cotton: 0.07 } as const

export type WrappedYarn = keyof typeof WRAP_ALLOWANCE

/**
 * Linear density estimated from wraps packed to refusal: (wraps per inch x (1 + allowance))² yards to the pound.
 * @param wrapsPerCm wraps in a centimetre, packed until no more go in, more than zero
 * @param kind what yarn it is
 * @returns tex, unrounded; an estimate, good to perhaps a third either way (our own judgement)
 * @throws RangeError when the wraps are out of range
 * @example texFromWraps(40 / 2.54, 'worsted') // 256.2: 44² = 1936 yd/lb
 * Source: a spinner's rule on a page about ganseys (a weak source); allowances 10 % worsted, 16 % woollen, 7 % silk or cotton.
 */
export function texFromWraps(wrapsPerCm: number, kind: WrappedYarn): number {
  const perInch = 2.54 * requirePositive('wrapsPerCm', wrapsPerCm) * (1 + WRAP_ALLOWANCE[kind])
  return G_PER_LB / M_PER_YD / ((perInch * perInch) / 1000)
}

const M_PER_YD = 0.9144
const G_PER_LB = 453.59237
