import { requirePositive } from '../measure/argument.ts'
import { COUNT_SYSTEMS, countOf, resultantTexOf, type CountSystem } from './count.ts'
import type { CountReading } from './count-reading.ts'
import type { Density } from './density.ts'
import { diameterEstimate, type DiameterEstimate, type PackingRange } from './diameter-range.ts'
import { contractedTex, contractionFactor, contractionOf, twistAngle, twistFactor, twistRetraction } from './twist.ts'

export interface ReckonedYarn {
  /** The strands together as their counts say, in tex. */
  readonly nominalTex: number
  /** Of the yarn as it is, in tex: shortened by plying where that is known. */
  readonly tex: number
  /** Share of length lost by plying, from 0 to below 1; undefined where nobody said. */
  readonly contraction: number | undefined
  readonly strands: number
  readonly counts: readonly ReckonedCount[]
  readonly mPer100g: number
  readonly diameter: DiameterEstimate
  /** How many lie side by side in a centimetre, just touching. */
  readonly wrapsPerCm: number
  readonly twist: ReckonedTwist | undefined
}

/** The count in one system. */
export interface ReckonedCount {
  readonly system: CountSystem
  readonly label: string
  readonly definition: string
  /** Of the yarn as it is. */
  readonly whole: number
  /** Of one single; undefined where the yarn is one, or where its singles differ. */
  readonly single: number | undefined
}

export interface ReckonedTwist {
  readonly turnsPerM: number
  /** Degrees between the surface fibres and the axis. */
  readonly angle: number
  /** Turns per cm x sqrt(tex). */
  readonly factor: number
  /** Share of the length that so much twist takes, by the helix model. */
  readonly retraction: number
  readonly contractionFactor: number
}

/**
 * All that follows from the count of a yarn.
 * @param strands what it is plied of, one or more
 * @param given `contraction`, the share of length lost by plying; `density`, of the fibre; `packing`; `turnsPerM`, of
 *   the last twist
 * @returns figures in the units that their names say, unrounded
 * @throws RangeError when there is no strand, or a figure is out of range
 * @example reckonYarn([toReading('Nm', 28, 2, 'single')], { density: { gPerCm3: 1.31, low: 1.31, high: 1.31 }, packing: { low: 0.55, high: 0.6 } }).tex // 71.43
 * Source: the functions it is put together from.
 */
export function reckonYarn(
  strands: readonly CountReading[],
  given: {
    readonly density: Pick<Density, 'gPerCm3' | 'low' | 'high'>
    readonly packing: PackingRange
    readonly contraction?: number | undefined
    readonly turnsPerM?: number | undefined
  },
): ReckonedYarn {
  const nominalTex = resultantTexOf(strands.map((strand) => strand.singleTex * strand.ply))
  const measuredTex = resultantTexOf(strands.map((strand) => strand.resultantTex))
  const tex = given.contraction === undefined ? measuredTex : contractedTex(measuredTex, given.contraction)
  const singles = strands.flatMap(({ singleTex, ply }) => Array<number>(ply).fill(singleTex))
  const alike = singles.length > 1 && singles.every((one) => one === singles[0]) ? singles[0] : undefined
  const diameter = diameterEstimate(tex, given.density.gPerCm3, given.packing, 0, given.density)
  return {
    nominalTex,
    tex,
    contraction: tex > nominalTex ? contractionOf(nominalTex, tex) : given.contraction,
    strands: singles.length,
    counts: (Object.keys(COUNT_SYSTEMS) as CountSystem[]).map((system) => ({
      system,
      label: COUNT_SYSTEMS[system].label,
      definition: COUNT_SYSTEMS[system].definition,
      whole: countOf(tex, system),
      single: alike === undefined ? undefined : countOf(alike, system),
    })),
    mPer100g: countOf(tex, 'mPer100g'),
    diameter,
    wrapsPerCm: 10 / diameter.diameterMm,
    twist: given.turnsPerM === undefined ? undefined : reckonTwist(given.turnsPerM, tex, diameter.diameterMm),
  }
}

function reckonTwist(turnsPerM: number, tex: number, diameterMm: number): ReckonedTwist {
  const angle = twistAngle(diameterMm, requirePositive('turnsPerM', turnsPerM))
  const retraction = twistRetraction(angle)
  return {
    turnsPerM,
    angle,
    factor: twistFactor(turnsPerM, tex),
    retraction,
    contractionFactor: contractionFactor(retraction),
  }
}
