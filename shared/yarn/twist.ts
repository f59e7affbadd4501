import { requireFinite, requireNotNegative, requirePositive } from '../measure/argument.ts'

const DEGREES = 180 / Math.PI

/**
 * The angle at which the fibres of the surface lie to the axis of a yarn: tan a = pi d T.
 * @param diameterMm diameter of the yarn in mm, more than zero
 * @param turnsPerM turns in a metre, zero or more
 * @returns degrees, from 0 to below 90, unrounded
 * @throws RangeError when an argument is out of range
 * @example twistAngle(0.2, 600) // 20.656
 * Source: geometry of the helix; GATE Textile 2005, question 71, works with it.
 */
export function twistAngle(diameterMm: number, turnsPerM: number): number {
  const circumferenceM = (Math.PI * requirePositive('diameterMm', diameterMm)) / 1000
  return Math.atan(circumferenceM * requireNotNegative('turnsPerM', turnsPerM)) * DEGREES
}

/**
 * The turns in a metre of a yarn whose surface lies at an angle; the inverse of `twistAngle`.
 * @param diameterMm diameter of the yarn in mm, more than zero
 * @param angle degrees between the surface fibres and the axis, from 0 to below 90
 * @returns turns per metre, unrounded
 * @throws RangeError when an argument is out of range
 * @example turnsPerMOf(0.3, 45) // 1061.03
 * Source: geometry of the helix.
 */
export function turnsPerMOf(diameterMm: number, angle: number): number {
  requirePositive('diameterMm', diameterMm)
  return (1000 * Math.tan(angleInRadians('angle', angle))) / (Math.PI * diameterMm)
}

/**
 * The twist factor: turns per cm times the root of the tex, which is alike for yarns of like twist angle and packing.
 * @param turnsPerM turns in a metre, zero or more
 * @param tex linear density in tex, more than zero
 * @returns turns per cm x sqrt(tex), unrounded
 * @throws RangeError when an argument is out of range
 * @example twistFactor(600, 25) // 30
 * Source: R. Balasubramanian, Useful Conversion Factors.
 */
export function twistFactor(turnsPerM: number, tex: number): number {
  return (requireNotNegative('turnsPerM', turnsPerM) / 100) * Math.sqrt(requirePositive('tex', tex))
}

/**
 * The turns in a metre that a twist factor asks of a yarn; the inverse of `twistFactor`.
 * @param factor turns per cm x sqrt(tex), zero or more
 * @param tex linear density in tex, more than zero
 * @returns turns per metre, unrounded
 * @throws RangeError when an argument is out of range
 * @example turnsPerMForFactor(30, 25) // 600
 * Source: GATE Textile 2014, question 19, asks this case.
 */
export function turnsPerMForFactor(factor: number, tex: number): number {
  return (100 * requireNotNegative('factor', factor)) / Math.sqrt(requirePositive('tex', tex))
}

/**
 * The twist multiplier of cotton counts: turns per inch over the root of the English count.
 * @param turnsPerM turns in a metre, zero or more
 * @param cottonCount count in NeC, more than zero
 * @returns turns per inch / sqrt(NeC), unrounded. A twist factor is 9.567 times as much
 * @throws RangeError when an argument is out of range
 * @example twistMultiplier(15 / 0.0254, 36) // 2.5
 * Source: answer key of GATE Textile; turns per inch = 0.0254 x turns per metre.
 */
export function twistMultiplier(turnsPerM: number, cottonCount: number): number {
  return (0.0254 * requireNotNegative('turnsPerM', turnsPerM)) / Math.sqrt(requirePositive('cottonCount', cottonCount))
}

/**
 * How much shorter a yarn becomes by being twisted to an angle, as a share of the length before.
 * @param angle degrees between the surface fibres and the axis, from 0 to below 90
 * @returns share of the length that is lost: tan²(a/2), unrounded
 * @throws RangeError when the angle is out of range
 * @example twistRetraction(30) // 0.0718
 * Source: Hearle, Grosberg and Backer, Structural Mechanics of Fibers, Yarns and Fabrics, 1969, from memory; the
 * relation to the contraction factor, c = 1 / (1 - R), is in print.
 */
export function twistRetraction(angle: number): number {
  return Math.tan(angleInRadians('angle', angle) / 2) ** 2
}

/**
 * Length of yarn over length after twisting: c = 1 / (1 - R).
 * @param retraction share of the length lost by twisting, from 0 to below 1
 * @returns 1 or more, unrounded
 * @throws RangeError when the share is out of range
 * @example contractionFactor(0.0718) // 1.07735, the (1 + sec 30°) / 2 of the same theory
 * Source: notes on the structural mechanics of yarns, after Hearle and others.
 */
export function contractionFactor(retraction: number): number {
  return 1 / (1 - asShare('retraction', retraction))
}

/**
 * Linear density after twisting has shortened a yarn: the same mass on less length.
 * @param tex linear density before, in tex, more than zero
 * @param contraction share of the length that is lost, from 0 to below 1
 * @returns tex, unrounded
 * @throws RangeError when an argument is out of range
 * @example contractedTex(68, 0.0188) // 69.3, the R 69.3 tex of 34 tex x 2
 * Source: length algebra, tex2 = tex1 / (1 - C); the example is that of ISO 1139, from memory.
 */
export function contractedTex(tex: number, contraction: number): number {
  return requireFinite('the contracted tex', requirePositive('tex', tex) / (1 - asShare('contraction', contraction)))
}

/**
 * The share by which plying shortened the singles, from the linear density that was found.
 * @param nominalTex sum of the singles, in tex, more than zero
 * @param resultantTex linear density of the plied yarn as measured, in tex, at least as much
 * @returns share from 0 to below 1, unrounded
 * @throws RangeError when an argument is out of range, or the plied yarn is said to be finer than its singles
 * @example contractionOf(68, 69.3) // 0.01876
 * Source: length algebra, as `contractedTex`.
 */
export function contractionOf(nominalTex: number, resultantTex: number): number {
  requirePositive('nominalTex', nominalTex)
  if (requirePositive('resultantTex', resultantTex) < nominalTex)
    throw new RangeError(`resultantTex must be at least the ${nominalTex} tex of the singles, not ${resultantTex}`)
  return 1 - nominalTex / resultantTex
}

function asShare(name: string, value: number): number {
  if (requireNotNegative(name, value) >= 1) throw new RangeError(`${name} must be below 1, not ${value}`)
  return value
}

function angleInRadians(name: string, angle: number): number {
  if (requireNotNegative(name, angle) >= 90) throw new RangeError(`${name} must be below 90 degrees, not ${angle}`)
  return angle / DEGREES
}
