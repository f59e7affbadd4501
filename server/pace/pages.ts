import { quartilesOf, type Quartiles } from '../../shared/measure/quartile.ts'
import { toDecimals, toSignificant } from '../../shared/measure/rounding.ts'
import { LEAST_FATIGUE, type Fatigue, type PickTrouble } from '../../shared/work/step-pace.ts'
import type { PageHead } from '../pages.ts'
import { groupSums, type GroupView } from '../sitting/groups.ts'
import { toRateNote, toRates, type PiecePace } from '../sitting/pace.ts'
import type { Sitting } from '../sitting/queries.ts'
import type { LearningBase, StepFacts } from './facts.ts'
import { learningView, type LearningView } from './learning-view.ts'

declare module '../pages.ts' {
  interface Pages {
    'pace/show': PacePage
  }
}

interface PacePage extends PageHead {
  readonly id: number
  readonly name: string
  readonly rates: readonly PaceRow[]
  readonly filled: string
  readonly learning: LearningView
  readonly groups: readonly GroupView[]
  /** Whether steps at the loom were timed at all. */
  readonly hasSteps: boolean
  readonly kinds: readonly KindRow[]
  /** How many kinds there are beside those that are shown. */
  readonly moreKinds: number
  readonly trouble: readonly TroubleRow[]
  readonly moreTrouble: number
  readonly fatigue: string
  readonly otherRevision: string
}

interface PaceRow {
  readonly label: string
  readonly value: string
  readonly spread: string
  readonly base: string
}

interface KindRow {
  readonly picks: string
  readonly line: string
  readonly seconds: string
  readonly spread: string
  readonly n: number
}

interface TroubleRow {
  readonly pick: number
  readonly slips: string
  readonly unwoven: string
  readonly woven: number
}

/** As many rows as say what is slow and what goes wrong; the rest only lengthens the page. */
const MOST_ROWS = 8

export function pacePage(
  piece: { readonly id: number; readonly name: string },
  { pace, steps, base, sittings }: PaceFacts,
): PacePage {
  return {
    ...{ title: `Pace: ${piece.name}`, section: 'pieces', id: piece.id, name: piece.name },
    rates: [...repeatRow(steps, base), ...pickRow(steps), ...sittingRows(pace), ...turnRow(steps, pace)],
    filled: toRateNote(pace),
    learning: learningView(base),
    groups: groupSums(sittings),
    hasSteps: steps !== undefined && steps.timed.length > 0,
    kinds: (steps?.kinds ?? []).slice(0, MOST_ROWS).map(toKindRow),
    moreKinds: Math.max(0, (steps?.kinds.length ?? 0) - MOST_ROWS),
    trouble: (steps?.trouble ?? []).slice(0, MOST_ROWS).map(toTroubleRow),
    moreTrouble: Math.max(0, (steps?.trouble.length ?? 0) - MOST_ROWS),
    fatigue: sayFatigue(steps?.fatigue ?? null),
    otherRevision: steps?.otherRevision
      ? `${steps.otherRevision} ${steps.otherRevision === 1 ? 'step was' : 'steps were'} woven by another revision of the draft, and ${steps.otherRevision === 1 ? 'is' : 'are'} left out of what the steps tell.`
      : '',
  }
}

export interface PaceFacts {
  readonly pace: PiecePace
  /** Undefined where the viewer sees no draft of the piece: steps are counted by its picks. */
  readonly steps: StepFacts | undefined
  readonly base: LearningBase
  readonly sittings: readonly Sitting[]
}

const half = ({ low, high }: Quartiles, unit: string) =>
  `half of them ${toSignificant(low, 3)} to ${toSignificant(high, 3)} ${unit}`

function repeatRow(steps: StepFacts | undefined, { points, by }: LearningBase): PaceRow[] {
  if (points.length === 0) return []
  const all = quartilesOf(points.map(({ minutes }) => minutes))
  const filled = by === 'repeat' ? (steps?.repeats.reduce((sum, one) => sum + one.filled, 0) ?? 0) : 0
  const base = [
    `median of ${all.n} ${by === 'repeat' ? 'repeats followed by steps' : all.n === 1 ? 'sitting' : 'sittings'}`,
    filled > 0
      ? `${filled} ${filled === 1 ? 'pick' : 'picks'} after a break given the median of ${filled === 1 ? 'its' : 'their'} repeat`
      : '',
  ]
  const value = `${toSignificant(all.median, 3)} min`
  return [{ label: 'A repeat takes', value, spread: half(all, 'min'), base: base.filter(Boolean).join('; ') }]
}

function pickRow(steps: StepFacts | undefined): PaceRow[] {
  if (!steps || steps.timed.length === 0) return []
  const all = quartilesOf(steps.timed.map(({ seconds }) => seconds))
  const base = `median of ${all.n} ${all.n === 1 ? 'pick' : 'picks'} with a time of their own`
  return [{ label: 'A pick takes', value: `${toSignificant(all.median, 3)} s`, spread: half(all, 's'), base }]
}

/** Rates over whole sittings: the picks and the length that stayed, by all the time at the loom. */
const sittingRows = (pace: PiecePace): PaceRow[] =>
  toRates(pace)
    .slice(1, 3)
    .filter(({ isKnown }) => isKnown)
    .map(({ label, value, base }) => ({ label, value, spread: '', base }))

function turnRow(steps: StepFacts | undefined, { quarterTurnsPerHour }: PiecePace): PaceRow[] {
  const label = 'Quarter turns in a minute'
  if (steps?.turnsPerMinute !== undefined)
    return [
      {
        label,
        value: toSignificant(steps.turnsPerMinute, 3),
        spread: '',
        base: `over ${steps.timed.length} timed picks`,
      },
    ]
  if (quarterTurnsPerHour === undefined) return []
  return [
    {
      label,
      value: toSignificant(quarterTurnsPerHour / 60, 3),
      spread: '',
      base: 'over all time at the loom, by the draft',
    },
  ]
}

function toKindRow({ kind, line, seconds }: StepFacts['kinds'][number]): KindRow {
  const shown = kind.picks.slice(0, 6).join(', ')
  const picks = kind.picks.length > 6 ? `${shown} and ${kind.picks.length - 6} more` : shown
  const spread = seconds.n < 2 ? '' : `${toSignificant(seconds.low, 3)} to ${toSignificant(seconds.high, 3)}`
  return { picks, line, seconds: toSignificant(seconds.median, 3), spread, n: seconds.n }
}

function toTroubleRow({ pick, slips, unwoven, woven }: PickTrouble): TroubleRow {
  const per100 = (count: number) =>
    count === 0 ? '0' : woven === 0 ? `${count}` : `${count} (${toSignificant((count / woven) * 100, 2)} in 100)`
  return { pick, slips: per100(slips), unwoven: per100(unwoven), woven }
}

function sayFatigue(fatigue: Fatigue | null): string {
  const { sittings, picks } = LEAST_FATIGUE
  if (!fatigue) return `Nothing is said before there are ${sittings} sittings of ${picks} timed picks each.`
  const { ratio, interval } = fatigue
  const percent = (share: number) => toDecimals(Math.abs(share - 1) * 100, 0)
  const signed = (share: number) => `${share < 1 ? '-' : '+'}${percent(share)} %`
  const verdict =
    interval[0] > 1
      ? `In the last third of a sitting a pick takes ${percent(ratio)} % longer than in the first`
      : interval[1] < 1
        ? `In the last third of a sitting a pick takes ${percent(ratio)} % less than in the first`
        : 'Between the first and the last third of a sitting no difference can be told'
  return `${verdict} (${signed(ratio)}, 95 % interval ${signed(interval[0])} to ${signed(interval[1])}, n = ${fatigue.sittings} sittings with ${fatigue.picks} timed picks). Each pick is set against its own kind.`
}
