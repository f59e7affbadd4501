import type { TimedSitting } from './pace.ts'
import type { Stage } from './stage.ts'

/** A sitting with its stage. What an unweaving states is what was undone, as a number above zero. */
export interface StagedSitting extends TimedSitting {
  readonly stage: Stage
}

const UNITS = ['picks', 'repeats', 'lengthMm'] as const

/**
 * The sittings at the loom as `paceOf` takes them: net progress. What an unweaving undid is taken off the sitting
 * that wove it, the latest first, since a band is unwoven from the fell; its own time counts, with progress of 0, in
 * every unit that the weaving is stated in. So the pace is that of the cloth that stayed, by all the time it took.
 * Stages other than weave and unweave are left out: a sample is not the piece.
 * @param sittings of one piece, in the order in which they were worked
 * @returns as many as were at the loom, in the same order; nothing falls below 0, also when more was unwoven than was
 *   stated as woven
 * @example toPaceSittings([{ stage: 'weave', minutes: 60, breakMinutes: 0, picks: 80 },
 *   { stage: 'unweave', minutes: 20, breakMinutes: 0, picks: 10 }]) // picks 70 in 60 minutes, then 0 in 20
 * Source: our own.
 */
export function toPaceSittings(sittings: readonly StagedSitting[]): TimedSitting[] {
  const atLoom = sittings.filter(({ stage }) => stage === 'weave' || stage === 'unweave')
  const net: Net[] = atLoom.map(({ minutes, breakMinutes }) => ({ minutes, breakMinutes }))
  for (const unit of UNITS) {
    const states = atLoom.some((sitting) => sitting.stage === 'weave' && sitting[unit] !== undefined)
    if (states) atLoom.forEach((_, at) => settle(atLoom, net, at, unit))
  }
  return net
}

type Net = { minutes: number; breakMinutes: number; picks?: number; repeats?: number; lengthMm?: number }

function settle(atLoom: readonly StagedSitting[], net: Net[], at: number, unit: (typeof UNITS)[number]): void {
  const sitting = atLoom[at] as StagedSitting
  const own = net[at] as Net
  const stated = sitting[unit]
  if (sitting.stage === 'weave') {
    if (stated !== undefined) own[unit] = stated
    return
  }
  own[unit] = 0
  let undone = stated ?? 0
  for (let earlier = at - 1; earlier >= 0 && undone > 0; earlier -= 1) {
    const woven = net[earlier] as Net
    const taken = Math.min(undone, woven[unit] ?? 0)
    if (woven[unit] !== undefined) woven[unit] -= taken
    undone -= taken
  }
}
