import { turningOf } from '../draft/turning.ts'
import type { BareWarp } from '../draft/twist-forecast.ts'
import type { Turning } from '../draft/woven.ts'
import { type TakeUp, takeUpOnBase, yarnLength } from '../yarn/take-up.ts'
import { lengthToWeaveMm, planWarp, type WarpPlan, windingTurnOfArms } from '../yarn/warp-plan.ts'
import { weftLengthM } from '../yarn/weft-need.ts'
import type { KnownFigure, PlanFacts } from './facts.ts'
import { learn, type Learned } from './learned.ts'
import type { PlanWants, PlanYarn } from './read-plan.ts'
import { measuredTakeUp, warpGeometry, type WarpGeometry } from './warp-geometry.ts'
import { workOutScale, type ScaleFigures } from './work-out-scale.ts'
import { workOutTwist, type TwistFigures } from './work-out-twist.ts'

/** Taken while yarn and picks per cm are not known. Common practice, no source. */
export const USUAL_TAKE_UP: TakeUp = { percent: 10, of: 'woven' }

/** The take-up that a plan goes by, and what it rests on. */
export interface TakeUpFigures {
  /** Of the woven length. */
  readonly percent: number
  readonly by: 'typed' | 'usual' | 'geometry' | 'corrected' | 'settled'
  /** As typed, on its own base. */
  readonly typed: TakeUp | null
  /** By geometry, percent of the woven length for every tablet; empty where it is not worked out. */
  readonly perTablet: readonly number[]
  /** What own pieces took up over what geometry says of them, by their lengths. */
  readonly ratio: Learned | null
  /** The same by the grams that were settled. */
  readonly settled: Learned | null
}

export interface WeftFigures {
  readonly picks: number
  readonly widthMm: number
  readonly widthFrom: string
  readonly lengthM: number
  readonly massG: number | null
}

/** What is needed of one yarn, warp and weft together. */
export interface YarnNeed {
  readonly yarn: PlanYarn
  readonly massG: number | null
  readonly lengthM: number
}

/** All numbers of a plan, unrounded; null where something that they need is not known. */
export interface PlanFigures {
  readonly turning: Turning
  readonly picksPerCm: KnownFigure | null
  /** Finished, in mm. */
  readonly wovenMm: number | null
  /** On the loom, the sample with it. */
  readonly toWeaveMm: number | null
  readonly warpYarn: WarpGeometry['warpYarn']
  readonly takeUp: TakeUpFigures
  readonly warp: WarpPlan | null
  readonly windingTurnMm: number | null
  /** On the loom, the sample with it. */
  readonly picks: number | null
  readonly weft: WeftFigures | null
  readonly needs: readonly YarnNeed[]
  readonly scale: ScaleFigures
  readonly twist: TwistFigures | null
  /** What the finished piece took up, percent of the woven length. */
  readonly measuredTakeUp: number | null
}

/**
 * Works a plan out from what is wanted and what is known: the one computation of the page, its script and its tests.
 * @param wants as `readPlan` gives them
 * @param facts the draft, the yarns, and what own pieces taught
 * @returns figures, unrounded
 * @throws RangeError when the draft's picks cannot be read
 * @example a length of 1500 mm, 60 cm of waste, no more known: warp by a take-up of 10 % of the woven length
 */
export function workOutPlan(wants: PlanWants, facts: PlanFacts): PlanFigures {
  const { bare, ...known } = workOutYarn(wants, facts)
  const { turning, picks } = known
  return { ...known, twist: bare && picks !== null ? workOutTwist(wants, facts, turning, bare, picks) : null }
}

/** All of it but the twist, with the bare warp that it would be in: what a settled piece is looked at by. */
export function workOutYarn(
  wants: PlanWants,
  facts: PlanFacts,
): Omit<PlanFigures, 'twist'> & { bare: BareWarp | null } {
  const { draft } = facts
  const turning = turningOf(draft)
  const picksPerCm = wants.picksPerCm !== null ? { value: wants.picksPerCm, from: 'as typed' } : facts.picksPerCm
  const pickMm = picksPerCm === null ? null : 10 / picksPerCm.value
  const wovenMm = wovenLengthOf(wants, turning, pickMm)
  const { warpYarn, perTablet } = warpGeometry(wants, draft, turning, picksPerCm?.value ?? null)
  const takeUp = takeUpOf(wants, facts, perTablet)
  const asTaken = takeUp.typed ?? { percent: takeUp.percent, of: 'woven' as const }
  const windingTurnMm = windingTurnOf(wants)
  const known = { turning, picksPerCm, warpYarn, takeUp, windingTurnMm, measuredTakeUp: measuredTakeUp(wants) }
  const scale = workOutScale(wants, facts, warpYarn?.diameter ?? null)
  if (wovenMm === null) {
    const nothing = { wovenMm, toWeaveMm: null, warp: null, picks: null, weft: null, bare: null }
    return { ...known, ...nothing, scale, needs: needsOf(wants, null, null) }
  }
  const { sampleMm, wasteMm: loomWasteMm, fringeMm, shrinkPercent: shrinkagePercent } = wants
  const lengths = { wovenLengthMm: wovenMm, shrinkagePercent, sampleMm, loomWasteMm, fringeMm }
  const holes = draft.tablets.map((tablet) => tablet.holes)
  const sizes = { ...lengths, takeUp: asTaken, windingTurnMm: windingTurnMm ?? undefined }
  const warp = planWarp(holes, sizes, texByColour(wants))
  const toWeaveMm = lengthToWeaveMm(lengths)
  // A length that is a whole number of picks is not one pick more for the last binary digit.
  const picks = pickMm === null ? null : Math.ceil(toWeaveMm / pickMm - 1e-9)
  const weft = picks === null || pickMm === null ? null : weftOf(wants, facts, scale, picks, pickMm)
  const bare = pickMm === null ? null : { bareMm: warp.warpLengthMm, pickMm, warpPerWoven: yarnLength(1, asTaken) }
  return {
    ...known,
    ...{ wovenMm, toWeaveMm, warp, picks, weft, scale },
    needs: needsOf(wants, warp, weft),
    bare,
  }
}

function wovenLengthOf(wants: PlanWants, { picks }: Turning, pickMm: number | null): number | null {
  if (wants.wovenBy === 'length') return wants.wovenMm
  if (wants.repeats === null || pickMm === null) return null
  // Picks are counted on the loom; the length wanted is that after finishing.
  return wants.repeats * picks * pickMm * (1 - wants.shrinkPercent / 100)
}

function texByColour({ warp }: PlanWants): Record<string, number> {
  return Object.fromEntries(Object.entries(warp).flatMap(([key, { tex }]) => (tex === null ? [] : [[key, tex]])))
}

function takeUpOf(
  wants: PlanWants,
  { takeUpRatios, settled: pieces }: PlanFacts,
  perTablet: readonly number[],
): TakeUpFigures {
  const ratio = learn(takeUpRatios.map(({ value }) => value))
  const settled = learn(pieces.flatMap((one) => one.ratio ?? []))
  const base = { typed: null, perTablet, ratio, settled }
  if (wants.takeUpBy === 'typed' && wants.takeUp)
    return { ...base, percent: takeUpOnBase(wants.takeUp, 'woven').percent, by: 'typed', typed: wants.takeUp }
  if (perTablet.length === 0) return { ...base, percent: USUAL_TAKE_UP.percent, by: 'usual' }
  const most = perTablet.reduce((top, one) => Math.max(top, one), 0)
  if (wants.takeUpBy === 'settled' && settled) return { ...base, percent: most * settled.mean, by: 'settled' }
  return ratio ? { ...base, percent: most * ratio.mean, by: 'corrected' } : { ...base, percent: most, by: 'geometry' }
}

function windingTurnOf({ winder, winderTurnMm, winderArms, winderSpacingMm }: PlanWants): number | null {
  if (winder === 'turn') return winderTurnMm
  if (winder === 'arms' && winderArms !== null && winderSpacingMm !== null)
    return windingTurnOfArms(winderArms, winderSpacingMm)
  return null
}

function weftOf(
  wants: PlanWants,
  facts: PlanFacts,
  scale: ScaleFigures,
  picks: number,
  pickMm: number,
): WeftFigures | null {
  const width =
    wants.widthMm !== null
      ? { value: wants.widthMm, from: 'as typed' }
      : (facts.widthMm ?? (scale.width && { value: scale.width.mm, from: 'predicted from the yarn' }))
  if (!width) return null
  const { weftStrands, weftPasses: passes, weftAllowance: allowancePercent } = wants
  const lengthM = weftStrands * weftLengthM({ picks, widthMm: width.value, pickMm, passes, allowancePercent })
  const { tex } = wants.weft
  return {
    picks,
    widthMm: width.value,
    widthFrom: width.from,
    lengthM,
    massG: tex === null ? null : (lengthM * tex) / 1000,
  }
}

/** Yarns that are the same are needed together: a lot that serves two colours and the weft has to do for all of them. */
function needsOf(wants: PlanWants, warp: WarpPlan | null, weft: WeftFigures | null): YarnNeed[] {
  const needs = new Map<string, YarnNeed>()
  const add = (yarn: PlanYarn, lengthM: number, massG: number | null) => {
    if (yarn.value === '') return
    const before = needs.get(yarn.value)
    needs.set(yarn.value, {
      yarn,
      lengthM: (before?.lengthM ?? 0) + lengthM,
      massG: massG === null || before?.massG === null ? null : (before?.massG ?? 0) + massG,
    })
  }
  for (const [key, { lengthM, massG }] of Object.entries(warp?.perColour ?? {})) add(wants.warp[key]!, lengthM, massG)
  if (weft) add(wants.weft, weft.lengthM, weft.massG)
  return [...needs.values()]
}
