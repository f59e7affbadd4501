import type { StepKind } from '../loom/step.ts'
import { requirePositive } from '../measure/argument.ts'

/** What time is reckoned from: a step at the loom, its instant in UTC. */
export interface TimedStep {
  readonly kind: StepKind
  /** Picks of the piece that are woven after it, from its beginning and over all repeats. */
  readonly place: number
  readonly at: string
  /** Where the band stood before it, where that is not the step before in the list: somebody else worked in between. */
  readonly from?: number
}

/** A longer gap between two steps is a break; a longer one still ends the sitting. Whole minutes. */
export interface SittingLimits {
  readonly breakMinutes: number
  readonly endMinutes: number
}

export const DEFAULT_LIMITS: SittingLimits = { breakMinutes: 5, endMinutes: 90 }

/** A step with the time that led to it. */
export interface StepGap<S extends TimedStep = TimedStep> {
  readonly step: S
  /** The step before it in the same sitting; undefined for the first one, which has no time of its own. */
  readonly after: S | undefined
  /** From the step before; 0 for the first one of a sitting. */
  readonly ms: number
  readonly isBreak: boolean
  readonly stage: 'weave' | 'unweave'
  /** By how many picks the band grew: below zero where the place was put back by hand. Never counts a place that was set. */
  readonly woven: number
  readonly unwoven: number
}

/**
 * The time between the steps at the loom, one entry a step, parted into sittings.
 *
 * A gap up to `breakMinutes` is work, spent on what the step at its end says: unweaving when a pick was unwoven, weaving when
 * one was woven; a slip, a place put right and a pause belong to the work before them. A longer gap is a break, and so is
 * whatever follows a pause. A gap of more than `endMinutes` ends the sitting. The first step of a sitting has no step before
 * it, and the first one after a break has the break before it: how long these picks took nobody knows.
 * @param steps of one maker at one piece, in the order in which they happened
 * @param limits whole minutes; `DEFAULT_LIMITS` where the maker has said nothing
 * @returns sittings in order, each a list of gaps in order
 * @throws RangeError when a limit is not above zero, an instant cannot be read, or the steps are out of order
 * @example steps at 10:00, 10:01, 10:20 by the default limits: one sitting, 1 min of work and 19 min of break
 * Source: our own.
 */
export function listStepGaps<S extends TimedStep>(steps: readonly S[], limits: SittingLimits): StepGap<S>[][] {
  const breakMs = requirePositive('limits.breakMinutes', limits.breakMinutes) * 60_000
  const endMs = requirePositive('limits.endMinutes', limits.endMinutes) * 60_000
  const sittings: StepGap<S>[][] = []
  let before: S | undefined
  let place = 0
  for (const [index, step] of steps.entries()) {
    const gapMs = before === undefined ? Infinity : toMs(step.at, index) - toMs(before.at, index)
    if (gapMs < 0) throw new RangeError(`steps[${index}].at must not be before the step that precedes it`)
    if (before === undefined || gapMs > endMs) sittings.push([])
    const sitting = sittings.at(-1) as StepGap<S>[]
    const after = sitting.length === 0 ? undefined : before
    const grown = step.place - (step.from ?? place)
    sitting.push({
      ...{ step, after, ms: after ? gapMs : 0 },
      isBreak: after !== undefined && (after.kind === 'pause' || gapMs > breakMs),
      stage: stageOf(step.kind) ?? sitting.at(-1)?.stage ?? 'weave',
      woven: step.kind === 'woven' || step.kind === 'back' ? grown : 0,
      unwoven: step.kind === 'unwoven' ? Math.max(0, -grown) : 0,
    })
    place = step.place
    before = step
  }
  return sittings
}

function stageOf(kind: StepKind): 'weave' | 'unweave' | undefined {
  if (kind === 'woven') return 'weave'
  return kind === 'unwoven' ? 'unweave' : undefined
}

function toMs(at: string, index: number): number {
  const ms = Date.parse(at)
  if (Number.isNaN(ms)) throw new RangeError(`steps[${index}].at must be an instant, not ${JSON.stringify(at)}`)
  return ms
}
