import { listStepGaps, type SittingLimits, type StepGap, type TimedStep } from './step-gap.ts'

/** A stretch of time, as instants. */
export interface TimeSpan {
  readonly from: string
  readonly to: string
}

/** What already has its place, so that no minute and no step is proposed a second time. */
export interface Taken {
  /** Sittings of the same maker at this piece: the steps within them are theirs. */
  readonly here: readonly TimeSpan[]
  /** Sittings of the same maker at other pieces: only the time is theirs. */
  readonly elsewhere: readonly TimeSpan[]
  /** Steps that a sitting was written from, or that were left out: instants of the first and the last one. */
  readonly steps: readonly TimeSpan[]
}

/** A sitting as the steps tell it: at one stage, in whole minutes of the clock. */
export interface StepSitting {
  readonly stage: 'weave' | 'unweave'
  /** To the minute, as a sitting is typed. */
  readonly startedAt: string
  readonly endedAt: string
  readonly minutes: number
  readonly breakMinutes: number
  /** Net picks: those woven less those put right, and less those unwoven in less than a minute. When unweaving: those unwoven. */
  readonly picks: number
  /** Steps that were followed within it, and the instants of the first and the last. */
  readonly steps: number
  readonly stepsFrom: string
  readonly stepsTo: string
}

/** Steps that make no whole minute: nothing is proposed, and nothing is lost without a word. */
export interface StepRest {
  readonly from: string
  readonly to: string
  readonly steps: number
  readonly picks: number
}

/**
 * The sittings that write themselves from the steps of one maker at one piece.
 *
 * Instants are rounded to the minute first, and everything is counted on that grid: so the parts of a sitting add up to it, and
 * the minutes of all sittings together are those of the time they cover. A sitting is parted where the stage changes; a stage
 * that comes to no whole minute stays with its neighbour. Breaks at the ends of a part are left out.
 * @param steps in the order in which they happened
 * @param limits whole minutes
 * @param taken what is not to be proposed again
 * @returns sittings in order, none of which shares a minute with another or with what is taken; and the steps that are left over
 * @throws RangeError as `listStepGaps`
 * @example steps at 10:00, 10:01 … 10:40, the default limits: one sitting of 40 min from 10:00
 * Source: our own.
 */
export function sittingsFromSteps(
  steps: readonly TimedStep[],
  limits: SittingLimits,
  taken: Taken = { here: [], elsewhere: [], steps: [] },
): { sittings: StepSitting[]; rest: StepRest[] } {
  const busy = [...taken.here, ...taken.elsewhere].map(toMinutes)
  // A sitting that was typed is known to the minute: a step some seconds after its end is still its own.
  const isHere = toHolds(taken.here, 30_000)
  const isWritten = toHolds(taken.steps, 0)
  const runs = listStepGaps(steps, limits).flatMap((gaps) => {
    const laid = foldStages(gaps.map(toLaid)).filter(({ gap }) => !isWritten(gap.step.at))
    return listRuns(laid.flatMap((one) => clip({ ...one, counts: !isHere(one.gap.step.at) }, busy)))
  })
  const sittings: StepSitting[] = []
  const rest: StepRest[] = []
  for (const run of runs) {
    const sitting = toSitting(run)
    if (sitting) sittings.push(sitting)
    else if (run.some(({ counts }) => counts)) rest.push(toRest(run))
  }
  return { sittings, rest }
}

interface Minutes {
  readonly from: number
  readonly to: number
}

/** A gap on the grid of whole minutes. */
interface Laid extends Minutes {
  readonly gap: StepGap
  readonly stage: StepGap['stage']
  /** Whether step and picks are counted here: not those of a sitting by hand, and of a gap that was cut up in its last part. */
  readonly counts: boolean
}

type Run = [Laid, ...Laid[]]

const toMinute = (at: string) => Math.round(Date.parse(at) / 60_000)
const toMinutes = ({ from, to }: TimeSpan): Minutes => ({ from: toMinute(from), to: toMinute(to) })
const toInstant = (minute: number) => new Date(minute * 60_000).toISOString().replace('.000Z', 'Z')

function toLaid(gap: StepGap): Laid {
  const to = toMinute(gap.step.at)
  return { gap, stage: gap.stage, from: gap.after ? toMinute(gap.after.at) : to, to, counts: true }
}

/** Whether an instant lies in one of the spans, or within so many milliseconds of it. */
function toHolds(spans: readonly TimeSpan[], slackMs: number): (at: string) => boolean {
  const read = spans.map(({ from, to }) => [Date.parse(from) - slackMs, Date.parse(to) + slackMs] as const)
  return (at) => {
    const ms = Date.parse(at)
    return read.some(([from, to]) => ms >= from && ms <= to)
  }
}

/** Gives a stage that comes to no whole minute of work to its neighbour, the earlier one first. */
function foldStages(sitting: readonly Laid[]): Laid[] {
  const stretches: { stage: StepGap['stage']; members: Laid[]; worked: number }[] = []
  for (const one of sitting) {
    if (stretches.at(-1)?.stage !== one.stage) stretches.push({ stage: one.stage, members: [], worked: 0 })
    const stretch = stretches.at(-1) as (typeof stretches)[number]
    stretch.members.push(one)
    if (!one.gap.isBreak) stretch.worked += one.to - one.from
  }
  const first = stretches.find(({ worked }) => worked > 0)
  let stage = first?.stage
  return stretches.flatMap((stretch) => {
    if (stretch.worked > 0) stage = stretch.stage
    return stretch.members.map((one) => ({ ...one, stage: stage ?? one.stage }))
  })
}

/** What is left of a gap beside the time that is taken: itself, parts of it, or its step alone, which takes no time. */
function clip(one: Laid, busy: readonly Minutes[]): Laid[] {
  let parts: Minutes[] = [{ from: one.from, to: one.to }]
  for (const { from, to } of busy)
    parts = parts.flatMap((part) =>
      part.to <= from || part.from >= to
        ? [part]
        : [
            { from: part.from, to: Math.min(part.to, from) },
            { from: Math.max(part.from, to), to: part.to },
          ].filter((left) => left.from < left.to),
    )
  if (parts.length === 0) return [{ ...one, from: one.to }]
  return parts.map((part, at) => ({ ...one, ...part, counts: one.counts && at === parts.length - 1 }))
}

/** Parts of a sitting: at one stage, and without a gap in their midst. A step without time stays with the time before it. */
function listRuns(laid: readonly Laid[]): Run[] {
  const runs: Run[] = []
  let end = 0
  for (const one of laid) {
    const run = runs.at(-1)
    const takesTime = one.to > one.from
    if (run === undefined || run[0].stage !== one.stage || (takesTime && end < one.from)) {
      runs.push([one])
      end = one.to
    } else {
      run.push(one)
      if (takesTime) end = one.to
    }
  }
  return runs
}

function toSitting(run: Run): StepSitting | undefined {
  const worked = run.filter(({ gap, from, to }) => !gap.isBreak && to > from)
  const [first, last] = [worked[0], worked.at(-1)]
  if (first === undefined || last === undefined) return undefined
  const minutes = last.to - first.from
  return {
    ...{ stage: first.stage, startedAt: toInstant(first.from), endedAt: toInstant(last.to), minutes },
    breakMinutes: minutes - worked.reduce((sum, { from, to }) => sum + to - from, 0),
    picks: countPicks(run, first.stage),
    ...toSteps(run),
  }
}

const toRest = (run: Run): StepRest => {
  const { steps, stepsFrom: from, stepsTo: to } = toSteps(run)
  return { from, to, steps, picks: countPicks(run, run[0].stage) }
}

function countPicks(run: Run, stage: StepGap['stage']): number {
  const counted = run.filter(({ counts }) => counts)
  const woven = counted.reduce((sum, { gap }) => sum + gap.woven, 0)
  const unwoven = counted.reduce((sum, { gap }) => sum + gap.unwoven, 0)
  return Math.max(0, stage === 'weave' ? woven - unwoven : unwoven - woven)
}

function toSteps(run: Run) {
  const own = run.filter(({ counts }) => counts)
  const [first, last] = [own[0] ?? run[0], own.at(-1) ?? run[0]]
  return { steps: own.length, stepsFrom: first.gap.step.at, stepsTo: last.gap.step.at }
}
