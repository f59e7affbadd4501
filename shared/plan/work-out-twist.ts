import { planBorders } from '../draft/border-plan.ts'
import { borderSteps } from '../draft/border-turning.ts'
import { type BareWarp, forecastTwist, type TwistForecast } from '../draft/twist-forecast.ts'
import { twistRelief, type TwistRelief } from '../draft/twist-relief.ts'
import type { Turning } from '../draft/woven.ts'
import type { PlanFacts } from './facts.ts'
import { learn, type Learned } from './learned.ts'
import type { PlanWants } from './read-plan.ts'

/** Turns per metre in the bare warp at which weaving becomes hard. Common practice, no source. */
export const USUAL_LIMIT_PER_M = 80

/** More is not reckoned while somebody types: picks times tablets. */
const MOST_TURNS = 4_000_000

export interface TwistFigures {
  readonly warp: BareWarp
  readonly picks: number
  readonly limit: {
    readonly perM: number
    readonly by: 'typed' | 'learned' | 'usual'
    readonly learned: Learned | null
  }
  readonly blockPicks: number
  /** The borders reversed as the plan says; as drafted where it says otherwise. */
  readonly forecast: TwistForecast
  readonly asDrafted: TwistForecast
  /** Where to reverse the borders; or why nothing is proposed. */
  readonly proposal:
    | { readonly ok: true; readonly reversals: readonly number[]; readonly picks: number; readonly mostPerM: number }
    | { readonly ok: false; readonly message: string }
  readonly relief: TwistRelief
  readonly borders: number
}

/**
 * How twist builds up while the band is woven, and what can be done.
 * @param warp the bare warp before the first pick
 * @param picks how many are wanted, the sample with them
 * @returns null where the band is too large to be reckoned at once (over 4 million turns)
 */
export function workOutTwist(
  wants: PlanWants,
  facts: PlanFacts,
  turning: Turning,
  warp: BareWarp,
  picks: number,
): TwistFigures | null {
  if (picks * turning.tablets > MOST_TURNS) return null
  const limit = limitOf(wants, facts)
  const { tablets } = facts.draft
  const isBorder = tablets.map(({ part }) => part === 'border')
  const asDrafted = forecastTwist(turning, warp, picks, limit.perM, { isBorder, reversals: [] })
  const reversals = countedReversals(wants, facts, picks)
  const blockPicks = wants.blockPicks ?? turning.picks
  return {
    ...{ warp, picks, limit, blockPicks, asDrafted },
    forecast:
      reversals.length === 0 ? asDrafted : forecastTwist(turning, warp, picks, limit.perM, { isBorder, reversals }),
    proposal: propose(facts, turning, warp, picks, blockPicks, limit.perM),
    relief: twistRelief(turning, warp, picks, limit.perM),
    borders: isBorder.filter(Boolean).length,
  }
}

/** Turning a tablet over and going on the same way twines its cord as turning it back does. */
export const turnsBorders = ({ borders }: Pick<PlanWants, 'borders'>): boolean =>
  borders === 'reverse' || borders === 'flip'

/** Reversals that a plan adds to its draft: those that stand in the draft's turning already are not counted again. */
export function countedReversals(
  wants: PlanWants,
  { writtenReversals }: Pick<PlanFacts, 'writtenReversals'>,
  picks: number,
): number[] {
  if (!turnsBorders(wants)) return []
  return wants.reversals.filter((pick) => pick < picks && !writtenReversals.includes(pick))
}

function limitOf({ twistLimit }: PlanWants, { stops }: PlanFacts): TwistFigures['limit'] {
  const learned = learn(stops.map(({ value }) => value))
  if (twistLimit !== null) return { perM: twistLimit, by: 'typed', learned }
  return learned ? { perM: learned.mean, by: 'learned', learned } : { perM: USUAL_LIMIT_PER_M, by: 'usual', learned }
}

function propose(
  { draft }: PlanFacts,
  turning: Turning,
  warp: BareWarp,
  picks: number,
  blockPicks: number,
  limitPerM: number,
): TwistFigures['proposal'] {
  const read = borderSteps(draft, turning)
  if (!read.ok) return read
  try {
    const plan = planBorders(warp, picks, blockPicks, limitPerM, read.steps)
    return { ok: true, reversals: plan.reversals, picks: plan.picks, mostPerM: plan.most.turnsPerM }
  } catch (error) {
    if (!(error instanceof RangeError)) throw error
    return {
      ok: false,
      message: 'With so long a warp and so small a block there are too many ways; take a larger block.',
    }
  }
}
