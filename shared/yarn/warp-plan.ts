import { requireNotNegative, requirePositive } from '../measure/argument.ts'
import { beforeShrinkage } from './cloth.ts'
import { type TakeUp, yarnLength } from './take-up.ts'

export interface WarpWants {
  /** Length of band wanted, in mm, more than zero: when it is finished, where finishing shrinks it. */
  readonly wovenLengthMm: number
  /** What finishing takes off the length, in percent of the length before; none unless told. */
  readonly shrinkagePercent?: number | undefined
  readonly takeUp: TakeUp
  /** What can not be woven at both ends together, in mm. */
  readonly loomWasteMm: number
  /** Band woven before it counts, to try the beat, in mm. It takes up as the band does. */
  readonly sampleMm: number
  /** Warp left hanging at both ends together, in mm. */
  readonly fringeMm: number
  /** What one turn of the maker's winder takes, in mm, more than zero. */
  readonly windingTurnMm?: number | undefined
}

export interface ColourNeed {
  readonly ends: number
  readonly lengthM: number
  /** Null where no yarn is known for the colour. */
  readonly massG: number | null
}

export interface WarpPlan {
  readonly warpLengthMm: number
  readonly ends: number
  readonly totalLengthM: number
  /** By colour key, in the order in which the holes first name them. */
  readonly perColour: Readonly<Record<string, ColourNeed>>
  /** Turns of the winder for one end; null where the winder is not known. */
  readonly windingTurns: number | null
}

/**
 * Length of band to weave: the length wanted before finishing shrinks it, and the sample, which nobody measures after.
 * @param wants as for `warpLengthMm`
 * @returns mm, unrounded
 * @throws RangeError when a length or the shrinkage is out of range
 * @example lengthToWeaveMm({ wovenLengthMm: 1500, shrinkagePercent: 4, sampleMm: 100 }) // 1662.5
 */
export function lengthToWeaveMm({
  wovenLengthMm,
  shrinkagePercent = 0,
  sampleMm,
}: Pick<WarpWants, 'wovenLengthMm' | 'shrinkagePercent' | 'sampleMm'>): number {
  const wanted = beforeShrinkage(requirePositive('wovenLengthMm', wovenLengthMm), shrinkagePercent)
  return wanted + requireNotNegative('sampleMm', sampleMm)
}

/**
 * Length of each warp end: woven length and sample with their take-up, then loom waste and fringe, which are not woven.
 * @param wants lengths in mm, zero or more (the woven length above zero), and the take-up with its base
 * @returns mm, unrounded
 * @throws RangeError when a length or the take-up is out of range
 * @example warpLengthMm({ wovenLengthMm: 1500, takeUp: { percent: 10, of: 'woven' }, loomWasteMm: 600, sampleMm: 0, fringeMm: 0 }) // 2250
 * Source: our own order of the allowances; the bases as in `yarnLength`.
 */
export function warpLengthMm(wants: WarpWants): number {
  return (
    yarnLength(lengthToWeaveMm(wants), wants.takeUp) +
    requireNotNegative('loomWasteMm', wants.loomWasteMm) +
    requireNotNegative('fringeMm', wants.fringeMm)
  )
}

/**
 * The warp of a band: how long, how many ends, how much of each colour.
 * @param holes the holes of every tablet, a colour key or null for an empty one, which takes no thread
 * @param wants what is to be woven, and the allowances
 * @param texOfColour linear density in tex by colour key; a colour may be missing, and its mass is then null
 * @returns unrounded; the colours' metres add up to ends x warp length
 * @throws RangeError when a length, the take-up or a tex is out of range
 * @example 21 tablets with four threads each and ends of 2.5 m: 84 ends, 210 m
 * Source of the example: common practice, no source.
 */
export function planWarp(
  holes: readonly (readonly (string | null)[])[],
  wants: WarpWants,
  texOfColour: Readonly<Record<string, number>>,
): WarpPlan {
  const lengthMm = warpLengthMm(wants)
  const ends = new Map<string, number>()
  for (const key of holes.flat()) if (key !== null) ends.set(key, (ends.get(key) ?? 0) + 1)
  const total = [...ends.values()].reduce((sum, one) => sum + one, 0)
  const needs = [...ends].map(([key, count]): [string, ColourNeed] => {
    const lengthM = (count * lengthMm) / 1000
    const tex = Object.hasOwn(texOfColour, key) ? requirePositive(`tex of ${key}`, texOfColour[key]!) : null
    return [key, { ends: count, lengthM, massG: tex === null ? null : (lengthM * tex) / 1000 }]
  })
  const { windingTurnMm } = wants
  return {
    warpLengthMm: lengthMm,
    ends: total,
    totalLengthM: (total * lengthMm) / 1000,
    perColour: Object.fromEntries(needs),
    windingTurns: windingTurnMm === undefined ? null : lengthMm / requirePositive('windingTurnMm', windingTurnMm),
  }
}

/**
 * What one turn takes on a winder with arms, the yarn lying straight from arm to arm.
 * @param arms how many arms stand in the round, 2 or more
 * @param spacingMm from the yarn's place on one arm to that on the next, in mm, more than zero
 * @returns mm a turn, unrounded
 * @throws RangeError when an argument is out of range
 * @example windingTurnOfArms(4, 252) // 1008: four arms a little over 25 cm apart give about a metre (common practice, no source)
 */
export function windingTurnOfArms(arms: number, spacingMm: number): number {
  if (!Number.isSafeInteger(arms) || arms < 2)
    throw new RangeError(`arms must be a whole number of at least 2, not ${arms}`)
  return arms * requirePositive('spacingMm', spacingMm)
}
