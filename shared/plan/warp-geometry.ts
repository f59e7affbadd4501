import type { Draft } from '../draft/draft.ts'
import type { Turning } from '../draft/woven.ts'
import { sumOf } from '../measure/univariate.ts'
import type { Density } from '../yarn/density.ts'
import { diameterEstimate, type DiameterEstimate } from '../yarn/diameter-range.ts'
import { cordTakeUp } from '../yarn/take-up-geometry.ts'
import type { PlanWants, PlanYarn } from './read-plan.ts'

/** The warp thread of a plan, and the take-up that it has by geometry. */
export interface WarpGeometry {
  /** One thread in the place of all warp threads whose tex is known, each counted by its ends; null where none is. */
  readonly warpYarn: {
    readonly tex: number
    readonly diameter: DiameterEstimate
    /** Of its fibre, and from where. */
    readonly density: Density
    /** The diameter is as measured on every one of the yarns, so neither tex nor density is in it. */
    readonly isMeasured: boolean
  } | null
  /** Percent of the woven length for every tablet; empty where yarn or picks per cm are not known. */
  readonly perTablet: readonly number[]
}

/**
 * Warp thread and take-up by the geometry of the cords.
 * @param turning of the draft
 * @param picksPerCm null where it is not known
 * @example no yarn named: { warpYarn: null, perTablet: [] }
 */
export function warpGeometry(
  wants: PlanWants,
  { tablets }: Pick<Draft, 'tablets'>,
  turning: Turning,
  picksPerCm: number | null,
): WarpGeometry {
  const warpYarn = warpYarnOf(
    wants,
    tablets.flatMap(({ holes }) => holes),
  )
  if (!warpYarn || picksPerCm === null) return { warpYarn, perTablet: [] }
  const { diameter } = warpYarn
  const threads = { pickMm: 10 / picksPerCm, warpMm: diameter.diameterMm, weftMm: weftDiameter(wants, diameter) }
  return { warpYarn, perTablet: cordTakeUp(turning, threads) }
}

/**
 * What a finished piece took up: wound, less what was left, over what was woven.
 * @returns percent of the woven length; null where one of the three is not measured, or they do not fit together
 * @example 2870 mm wound, 820 left, 1800 woven: 13.9 %
 * Source: ISO 7211-3, crimp, on the whole warp.
 */
export function measuredTakeUp({
  woundMm,
  leftMm,
  measuredMm,
}: Pick<PlanWants, 'woundMm' | 'leftMm' | 'measuredMm'>): number | null {
  if (woundMm === null || leftMm === null || measuredMm === null) return null
  const used = woundMm - leftMm
  return used < measuredMm ? null : 100 * (used / measuredMm - 1)
}

function warpYarnOf(wants: PlanWants, holes: readonly (string | null)[]): WarpGeometry['warpYarn'] {
  const threads = holes.flatMap((key) => (key === null ? [] : [wants.warp[key]!])).filter(({ tex }) => tex !== null)
  if (threads.length === 0) return null
  const tex = sumOf(threads.map((thread) => thread.tex!)) / threads.length
  const densities = threads.map((thread) => densityOf(thread, wants))
  const mean = (of: (density: Density) => number) => sumOf(densities.map(of)) / densities.length
  const density = {
    ...{ gPerCm3: mean((one) => one.gPerCm3), low: mean((one) => one.low), high: mean((one) => one.high) },
    from: [...new Set(densities.map(({ from }) => from))].join('; '),
  }
  const measured = threads.flatMap(({ measuredMm }) => measuredMm ?? [])
  if (measured.length === threads.length) {
    const diameterMm = sumOf(measured) / measured.length
    return { tex, density, diameter: { diameterMm, u: 0, lowMm: diameterMm, highMm: diameterMm }, isMeasured: true }
  }
  return {
    tex,
    density,
    diameter: diameterEstimate(tex, density.gPerCm3, wants.packing, 0, density),
    isMeasured: false,
  }
}

/** Of all its strands together, as round as one thread, as measured where it was; that of the warp where the weft's tex is not known. */
function weftDiameter(wants: PlanWants, warp: DiameterEstimate): number {
  const { tex, measuredMm } = wants.weft
  if (measuredMm !== null) return measuredMm * Math.sqrt(wants.weftStrands)
  if (tex === null) return warp.diameterMm
  const { gPerCm3 } = densityOf(wants.weft, wants)
  return diameterEstimate(tex * wants.weftStrands, gPerCm3, wants.packing, 0).diameterMm
}

/** Of a yarn's fibre: its own where the blend is known, else that of the plan's fibre. */
export const densityOf = (yarn: Pick<PlanYarn, 'density'>, wants: Pick<PlanWants, 'density'>): Density =>
  yarn.density ?? wants.density
