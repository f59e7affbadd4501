import { requireWhole } from '../measure/argument.ts'
import { quartilesOf, type Quartiles } from '../measure/quartile.ts'
import { COVERAGE, studentT } from '../measure/student-t.ts'
import { meanOf, standardUncertaintyOfMean } from '../measure/univariate.ts'
import type { StepGap } from './step-gap.ts'

/** A pick whose own time is known: from the step before it, without a break between. */
export interface TimedPick {
  /** Picks of the piece that are woven with it. */
  readonly place: number
  /** Its number within the repeat, from 1. */
  readonly pick: number
  readonly seconds: number
}

/**
 * The picks that have a time of their own: one was woven or unwoven just before, and no break lies between. So the first
 * pick of a sitting has none, nor has one after a break, a slip, a place put right or a place that was set.
 * @param sittings from `listStepGaps`
 * @param picksPerRepeat of the draft, 1 or more
 * @returns a list a sitting, in order
 * @throws RangeError when picksPerRepeat is no whole number of at least 1
 * @example steps woven at 10:00:00, 10:00:20, 10:00:45 // 20 s and 25 s, for the second and the third pick
 */
export function listTimedPicks(sittings: readonly (readonly StepGap[])[], picksPerRepeat: number): TimedPick[][] {
  requireWhole('picksPerRepeat', picksPerRepeat, 1)
  return sittings.map((gaps) =>
    gaps.flatMap(({ step, after, ms, isBreak, woven }) => {
      const follows = after?.kind === 'woven' || after?.kind === 'unwoven'
      if (step.kind !== 'woven' || woven !== 1 || !follows || isBreak || ms <= 0) return []
      const pick = ((step.place - 1) % picksPerRepeat) + 1
      return [{ place: step.place, pick, seconds: ms / 1000 }]
    }),
  )
}

/** One repeat of the band, as the steps timed it. */
export interface RepeatTime {
  /** From 1. */
  readonly repeat: number
  readonly minutes: number
  /** Picks without a time of their own, which were given the median of the repeat. */
  readonly filled: number
}

/** Of a repeat no more than this share may be filled in. */
export const MOST_FILLED = 0.25

/**
 * How long each repeat took at the loom, unweaving and slips included, breaks left out. Only repeats that were followed pick
 * by pick from end to end. A pick after a break has no time of its own: it is given the median of its repeat, and the repeat
 * says of how many picks that is so; over a quarter of them, it is left out.
 * @param sittings from `listStepGaps`
 * @param picksPerRepeat of the draft, 1 or more
 * @returns in the order of the repeats, minutes unrounded
 * @throws RangeError when picksPerRepeat is no whole number of at least 1
 */
export function listRepeatTimes(sittings: readonly (readonly StepGap[])[], picksPerRepeat: number): RepeatTime[] {
  requireWhole('picksPerRepeat', picksPerRepeat, 1)
  const repeats = new Map<number, { ms: number; woven: Set<number>; own: number[]; untimed: number }>()
  for (const { step, after, ms, isBreak, woven } of sittings.flat()) {
    // What leads to a woven pick belongs to that pick; anything else to the one that comes next.
    const pick = step.kind === 'woven' ? step.place : step.place + 1
    const repeat = Math.ceil(pick / picksPerRepeat)
    const own = repeats.get(repeat) ?? { ms: 0, woven: new Set<number>(), own: [], untimed: 0 }
    repeats.set(repeat, own)
    const isTimed = after !== undefined && !isBreak
    if (isTimed) own.ms += ms
    if (step.kind !== 'woven' || woven !== 1) continue
    own.woven.add(step.place)
    if (isTimed) own.own.push(ms)
    else own.untimed += 1
  }
  return [...repeats]
    .filter(([, { woven, untimed }]) => woven.size === picksPerRepeat && untimed <= picksPerRepeat * MOST_FILLED)
    .filter(([, { own }]) => own.length > 0)
    .map(([repeat, { ms, own, untimed }]) => ({
      ...{ repeat, filled: untimed },
      minutes: (ms + untimed * quartilesOf(own).median) / 60_000,
    }))
    .sort((left, right) => left.repeat - right.repeat)
}

/**
 * Seconds a pick, by kinds of picks.
 * @param timed from `listTimedPicks`, of any number of sittings
 * @param kindOf kind of a pick by its number within the repeat, from 1
 * @returns the slowest kind first; seconds, unrounded
 */
export function secondsByKind(
  timed: readonly TimedPick[],
  kindOf: (pick: number) => number,
): { kind: number; seconds: Quartiles }[] {
  const kinds = new Map<number, number[]>()
  for (const { pick, seconds } of timed) {
    const own = kinds.get(kindOf(pick))
    if (own) own.push(seconds)
    else kinds.set(kindOf(pick), [seconds])
  }
  return [...kinds]
    .map(([kind, list]) => ({ kind, seconds: quartilesOf(list) }))
    .sort((left, right) => right.seconds.median - left.seconds.median || left.kind - right.kind)
}

/** How often a pick of the repeat went wrong. */
export interface PickTrouble {
  readonly pick: number
  /** How often it was woven. */
  readonly woven: number
  readonly slips: number
  readonly unwoven: number
}

/**
 * Which picks of the repeat slip, and which were unwoven. A slip is that of the last pick woven, or of the first where none is.
 * @param sittings from `listStepGaps`
 * @param picksPerRepeat of the draft, 1 or more
 * @returns picks with trouble, most of it for the times it was woven first
 * @throws RangeError when picksPerRepeat is no whole number of at least 1
 */
export function listTrouble(sittings: readonly (readonly StepGap[])[], picksPerRepeat: number): PickTrouble[] {
  requireWhole('picksPerRepeat', picksPerRepeat, 1)
  const counts = new Map<number, { woven: number; slips: number; unwoven: number }>()
  const count = (place: number, what: 'woven' | 'slips' | 'unwoven') => {
    const pick = ((Math.max(1, place) - 1) % picksPerRepeat) + 1
    const own = counts.get(pick) ?? { woven: 0, slips: 0, unwoven: 0 }
    counts.set(pick, own)
    own[what] += 1
  }
  for (const { step, woven, unwoven } of sittings.flat()) {
    if (step.kind === 'woven' && woven === 1) count(step.place, 'woven')
    if (step.kind === 'slip') count(step.place, 'slips')
    for (let gone = 1; gone <= unwoven; gone += 1) count(step.place + gone, 'unwoven')
  }
  const rate = ({ woven, slips, unwoven }: PickTrouble) => (slips + unwoven) / Math.max(1, woven)
  return [...counts]
    .map(([pick, own]) => ({ pick, ...own }))
    .filter(({ slips, unwoven }) => slips + unwoven > 0)
    .sort((left, right) => rate(right) - rate(left) || left.pick - right.pick)
}

/** How the last third of a sitting went beside its first third. */
export interface Fatigue {
  /** Seconds a pick in the last third, as a share of those in the first: above 1 it went slower. */
  readonly ratio: number
  /** 95 %, by Student's t over the sittings. */
  readonly interval: readonly [number, number]
  /** Sittings that it stands on, and their timed picks. */
  readonly sittings: number
  readonly picks: number
}

/** Nothing is said of fewer sittings, or of sittings with fewer timed picks. */
export const LEAST_FATIGUE = { sittings: 4, picks: 30 } as const

/**
 * Whether the work slows down within a sitting. Each pick is set against the median of its own kind, so that a hard stretch
 * of the pattern is not taken for a tired weaver; the mean logarithm of the last third less that of the first is one figure
 * a sitting. What is learnt within a sitting works against it, and cannot be told apart.
 * @param timed from `listTimedPicks`
 * @param kindOf kind of a pick by its number within the repeat, from 1
 * @returns null under four sittings of 30 timed picks
 * Source: our own; the interval is that of a mean, JCGM 100:2008, 4.2.3 and G.3.
 */
export function fatigueOf(timed: readonly (readonly TimedPick[])[], kindOf: (pick: number) => number): Fatigue | null {
  const medians = new Map(secondsByKind(timed.flat(), kindOf).map(({ kind, seconds }) => [kind, seconds.median]))
  const long = timed.filter(({ length }) => length >= LEAST_FATIGUE.picks)
  if (long.length < LEAST_FATIGUE.sittings) return null
  const differences = long.map((picks) => {
    const logs = picks.map(({ pick, seconds }) => Math.log(seconds / (medians.get(kindOf(pick)) as number)))
    const third = Math.floor(logs.length / 3)
    return meanOf(logs.slice(-third)) - meanOf(logs.slice(0, third))
  })
  const mean = meanOf(differences)
  const reach = studentT(COVERAGE, differences.length - 1) * (standardUncertaintyOfMean(differences) as number)
  return {
    ratio: Math.exp(mean),
    interval: [Math.exp(mean - reach), Math.exp(mean + reach)],
    sittings: long.length,
    picks: long.reduce((sum, { length }) => sum + length, 0),
  }
}
