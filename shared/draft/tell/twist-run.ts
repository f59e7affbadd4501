import { requireWhole } from '../../measure/argument.ts'
import type { Tablet } from '../draft.ts'
import type { Turning } from '../woven.ts'

/** How the twist of one tablet runs through a repeat, in quarter turns, forward positive. */
export interface TwistRun {
  /** Numbered from 1. */
  readonly tablet: number
  /** At the end of the repeat. */
  readonly net: number
  /** The furthest forward and the furthest back that it ever stands, the beginning (0) included. */
  readonly high: number
  readonly low: number
  /** Whichever of the two is further from the beginning; of two that are as far, the one that comes first. */
  readonly most: number
  /** The first pick at which it stands there, numbered from 1; 0 when it never leaves the beginning. */
  readonly mostAt: number
}

/**
 * How far each tablet's twist runs, and when.
 * @returns one run a tablet
 * @example one tablet that turns F F F B B: { tablet: 1, net: 1, high: 3, low: 0, most: 3, mostAt: 3 }
 * Source: our own; a sum of quarter turns.
 */
export function listTwistRuns({ tablets, picks, turns }: Turning): TwistRun[] {
  // Pick by pick, as the turns lie in memory.
  const [stand, high, low] = [new Int32Array(tablets), new Int32Array(tablets), new Int32Array(tablets)]
  const [most, mostAt] = [new Int32Array(tablets), new Int32Array(tablets)]
  for (let pick = 0, cell = 0; pick < picks; pick++) {
    for (let tablet = 0; tablet < tablets; tablet++, cell++) {
      const now = (stand[tablet]! += turns[cell]!)
      if (now > high[tablet]!) high[tablet] = now
      if (now < low[tablet]!) low[tablet] = now
      if (Math.abs(now) <= Math.abs(most[tablet]!)) continue
      most[tablet] = now
      mostAt[tablet] = pick + 1
    }
  }
  return Array.from(stand, (net, tablet) => {
    const [up, down] = [high[tablet]!, low[tablet]!]
    return { tablet: tablet + 1, net, high: up, low: down, most: most[tablet]!, mostAt: mostAt[tablet]! }
  })
}

/** Where the bare warp of a tablet stands after some repeats, in whole turns, forward positive. */
export interface TwistStand {
  readonly repeat: number
  /** At the end of that repeat. */
  readonly turns: number
  /** The furthest from no twist that it stood at any pick up to there, the sign left out. */
  readonly most: number
}

/**
 * Where the bare warp stands at the end of each of the first repeats.
 * @param repeats how many, a whole number from 1
 * @throws RangeError when repeats is not a whole number from 1
 * @example standAfter({ net: 8, high: 10, low: 0, … }, 2) // [{ repeat: 1, turns: 2, most: 2.5 }, { repeat: 2, turns: 4, most: 4.5 }]
 * Source: our own; four quarter turns are a whole one, and each repeat begins where the one before ended.
 */
export function standAfter({ net, high, low }: TwistRun, repeats: number): TwistStand[] {
  requireWhole('repeats', repeats, 1)
  let most = 0
  return Array.from({ length: repeats }, (_, before) => {
    most = Math.max(most, Math.abs(before * net + high), Math.abs(before * net + low))
    return { repeat: before + 1, turns: ((before + 1) * net) / 4, most: most / 4 }
  })
}

/**
 * Which way the bare warp beyond a tablet is twisted when its net is not zero: turned forward, a tablet threaded S twists
 * it S and one threaded Z twists it Z; turned back, the other.
 * @param net quarter turns, not zero
 * @returns undefined when net is zero
 * @example twistOf('S', 8) // 'S'; twistOf('S', -8) // 'Z'; twistOf('Z', 0) // undefined
 * Source: our own; the cord that is woven and the warp that is not take opposite twists.
 */
export function twistOf(threading: Tablet['threading'], net: number): 'S' | 'Z' | undefined {
  if (net === 0) return undefined
  return net > 0 === (threading === 'S') ? 'S' : 'Z'
}
