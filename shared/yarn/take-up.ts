import { requireFinite, requireNotNegative, requirePositive } from '../measure/argument.ts'

/** What a take-up is a share of: the woven length (which ISO 7211-3 calls crimp), or the warp that went into it. */
export type TakeUpBase = 'woven' | 'warp'

/** A take-up never stands without its base: 50 % of the woven length is 33.3 % of the warp. */
export interface TakeUp {
  readonly percent: number
  readonly of: TakeUpBase
}

/**
 * Length of yarn that goes into a woven length.
 * @param wovenMm length of the cloth, in any unit, zero or more
 * @param takeUp percent and its base; of the warp it is below 100
 * @returns length of yarn in the same unit, unrounded: cloth x (1 + p) of the woven length, cloth / (1 - p) of the warp
 * @throws RangeError when an argument is out of range
 * @example yarnLength(160, { percent: 12, of: 'woven' }) // 179.2
 * Source: Textile Institute, definition of crimp; ISO 7211-3. The example is a worked one of a teaching text.
 */
export function yarnLength(wovenMm: number, takeUp: TakeUp): number {
  return requireNotNegative('wovenMm', wovenMm) * takeUpFactor(takeUp)
}

/**
 * Woven length that a length of yarn gives; the inverse of `yarnLength`.
 * @param yarnMm length of the yarn, in any unit, zero or more
 * @param takeUp percent and its base
 * @returns length of the cloth in the same unit, unrounded
 * @throws RangeError when an argument is out of range
 * @example wovenLength(800, { percent: 8, of: 'woven' }) // 740.7407
 */
export function wovenLength(yarnMm: number, takeUp: TakeUp): number {
  return requireNotNegative('yarnMm', yarnMm) / takeUpFactor(takeUp)
}

/**
 * The take-up that two lengths show.
 * @param yarnMm length of the yarn taken straight, at least the cloth's
 * @param wovenMm length of the cloth it lay in, in the same unit, more than zero
 * @param of the base wanted
 * @returns percent with its base, unrounded
 * @throws RangeError when a length is out of range, or the yarn is shorter than the cloth
 * @example takeUpOf(212, 200, 'woven') // { percent: 6, of: 'woven' }
 * @example takeUpOf(212, 200, 'warp') // 5.66 %
 * Source: as `yarnLength`.
 */
export function takeUpOf(yarnMm: number, wovenMm: number, of: TakeUpBase): TakeUp {
  requirePositive('wovenMm', wovenMm)
  if (requirePositive('yarnMm', yarnMm) < wovenMm)
    throw new RangeError(`yarnMm must be at least the ${wovenMm} of the cloth, not ${yarnMm}`)
  return { percent: (100 * (yarnMm - wovenMm)) / (of === 'woven' ? wovenMm : yarnMm), of }
}

/**
 * The same take-up on the other base: T = 100 C / (100 + C), C = 100 T / (100 - T).
 * @param takeUp percent and its base
 * @param of the base wanted
 * @returns percent with that base, unrounded
 * @throws RangeError when the percent is out of range
 * @example takeUpOnBase({ percent: 50, of: 'woven' }, 'warp') // { percent: 33.33…, of: 'warp' }
 */
export function takeUpOnBase(takeUp: TakeUp, of: TakeUpBase): TakeUp {
  if (takeUp.of === of) return takeUp
  const factor = takeUpFactor(takeUp)
  return { percent: of === 'warp' ? 100 * (1 - 1 / factor) : 100 * (factor - 1), of }
}

function takeUpFactor({ percent, of }: TakeUp): number {
  requireNotNegative('takeUp.percent', percent)
  if (of === 'woven') return requireFinite('the yarn for that take-up', 1 + percent / 100)
  if (percent >= 100) throw new RangeError(`takeUp.percent of the warp must be below 100, not ${percent}`)
  return 1 / (1 - percent / 100)
}
