import { COVERAGE, studentT } from '../measure/student-t.ts'
import { texFromDiameter } from '../yarn/diameter.ts'
import type { DiameterEstimate } from '../yarn/diameter-range.ts'
import { CORD_PRIOR, cordWidthMm, diameterForCord } from '../yarn/scale.ts'
import type { KnownFigure, PlanFacts, YarnChoice } from './facts.ts'
import { learn, type Learned } from './learned.ts'
import type { PlanWants } from './read-plan.ts'
import { densityOf } from './warp-geometry.ts'

/** Width of a cord over the diameter of its thread, and between which values it is taken to lie. */
export interface CordConstant {
  readonly k: number
  readonly low: number
  readonly high: number
  /** Own pieces behind it; null while it is our own guess. */
  readonly learned: Learned | null
}

/** A yarn that would reach something of the original's. */
export interface YarnTarget {
  readonly what: 'width' | 'tabletsPerCm' | 'endsPerCm' | 'thread'
  readonly wanted: KnownFigure
  readonly diameterMm: number
  readonly lowMm: number
  readonly highMm: number
  readonly tex: number
  readonly lowTex: number
  readonly highTex: number
}

export interface ScaleFigures {
  readonly constant: CordConstant
  readonly tablets: number
  /** Of the band to be expected; null where no warp yarn is known. */
  readonly width: { readonly mm: number; readonly lowMm: number; readonly highMm: number } | null
  readonly targets: readonly YarnTarget[]
  /** Lots on the shelf, the nearest to the first target first. */
  readonly nearest: readonly { readonly yarn: YarnChoice; readonly share: number; readonly widthMm: number }[]
}

const MOST_NEAREST = 5

/**
 * How near the original's scale a yarn comes, and which yarn would reach it.
 * @param warp diameter of the warp thread; null where it is not known
 * @returns the width of the band with the range that the constant and the packing of the yarn leave, and the yarns wanted
 * Source: the model of `cordWidthMm`; own pieces give the constant by their mean and a prediction interval of 95 % for one
 * more piece, mean ± t s sqrt(1 + 1/n); one piece alone keeps the spread of our own guess.
 */
export function workOutScale(wants: PlanWants, facts: PlanFacts, warp: DiameterEstimate | null): ScaleFigures {
  const constant = cordConstant(facts)
  const tablets = facts.draft.tablets.length
  const { density } = wants
  const targets = targetsOf(facts, constant).map((target) => ({
    ...target,
    tex: texFromDiameter(target.diameterMm, density.gPerCm3, (wants.packing.low + wants.packing.high) / 2),
    lowTex: texFromDiameter(target.lowMm, density.low, wants.packing.low),
    highTex: texFromDiameter(target.highMm, density.high, wants.packing.high),
  }))
  return {
    constant,
    tablets,
    width: warp && {
      mm: tablets * cordWidthMm(warp.diameterMm, constant.k),
      lowMm: tablets * cordWidthMm(warp.lowMm, constant.low),
      highMm: tablets * cordWidthMm(warp.highMm, constant.high),
    },
    targets,
    nearest: nearestOf(wants, facts, constant, targets[0], tablets),
  }
}

/** The constant that the maker's own pieces give, or our own guess. */
export function cordConstant({ cordRatios }: Pick<PlanFacts, 'cordRatios'>): CordConstant {
  const learned = learn(cordRatios.map(({ value }) => value))
  if (!learned) return { ...CORD_PRIOR, learned: null }
  const { mean, s, n } = learned
  if (s === null) {
    const share = mean / CORD_PRIOR.k
    return { k: mean, low: CORD_PRIOR.low * share, high: CORD_PRIOR.high * share, learned }
  }
  const half = studentT(COVERAGE, n - 1) * s * Math.sqrt(1 + 1 / n)
  // Two pieces that lie far apart give an interval that reaches below nothing.
  return { k: mean, low: Math.max(mean - half, mean / 10), high: mean + half, learned }
}

type Wanted = Pick<YarnTarget, 'what' | 'wanted' | 'diameterMm' | 'lowMm' | 'highMm'>

function targetsOf({ draft, original }: PlanFacts, constant: CordConstant): Wanted[] {
  const { widthMm, tabletsPerCm, endsPerCm, threadMm } = original
  const tablets = draft.tablets.length
  const ends = draft.tablets.flatMap(({ holes }) => holes).filter((key) => key !== null).length
  const byCord = (
    what: YarnTarget['what'],
    wanted: KnownFigure | null,
    cordMm: (value: number) => number,
  ): Wanted[] => {
    if (!wanted) return []
    const cord = cordMm(wanted.value)
    const [diameterMm, lowMm, highMm] = [constant.k, constant.high, constant.low].map((k) => diameterForCord(cord, k))
    return [{ what, wanted, diameterMm: diameterMm!, lowMm: lowMm!, highMm: highMm! }]
  }
  return [
    ...byCord('width', widthMm, (value) => value / tablets),
    ...byCord('tabletsPerCm', tabletsPerCm, (value) => 10 / value),
    ...byCord('endsPerCm', endsPerCm, (value) => (10 * (ends / tablets)) / value),
    ...(threadMm
      ? [
          {
            what: 'thread' as const,
            wanted: threadMm,
            diameterMm: threadMm.value,
            lowMm: threadMm.value,
            highMm: threadMm.value,
          },
        ]
      : []),
  ]
}

/** By the ratio of linear densities, which is how far a yarn is off, finer or coarser alike. */
function nearestOf(
  wants: PlanWants,
  { yarns }: PlanFacts,
  constant: CordConstant,
  target: YarnTarget | undefined,
  tablets: number,
): ScaleFigures['nearest'] {
  if (!target) return []
  const middle = (wants.packing.low + wants.packing.high) / 2
  return yarns
    .flatMap((yarn) => (yarn.tex !== null && yarn.freeG !== null && yarn.freeG > 0 ? [{ yarn, tex: yarn.tex }] : []))
    .map(({ yarn, tex }) => {
      const diameterMm = yarn.measuredMm ?? Math.sqrt(tex / texFromDiameter(1, densityOf(yarn, wants).gPerCm3, middle))
      return { yarn, share: tex / target.tex, widthMm: tablets * cordWidthMm(diameterMm, constant.k) }
    })
    .sort((left, right) => Math.abs(Math.log(left.share)) - Math.abs(Math.log(right.share)))
    .slice(0, MOST_NEAREST)
}
