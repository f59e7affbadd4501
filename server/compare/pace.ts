import type { Draft } from '../../shared/draft/draft.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { toDecimals, toSignificant } from '../../shared/measure/rounding.ts'
import { fillProgress } from '../../shared/work/fill-progress.ts'
import { toPaceSittings, type StagedSitting } from '../../shared/work/net-progress.ts'
import { hoursByStage, paceOf, quarterTurnsPerHour, type Pace, type PaceBase } from '../../shared/work/pace.ts'
import { STAGE_LABELS, type Stage } from '../../shared/work/stage.ts'
import { evidenceKey, knownOf, type EvidenceOf } from './evidence.ts'

/** Pace of a piece at the loom, and what a pick of its draft asks of the hands. */
export interface PiecePace {
  readonly pace: Pace
  readonly quarterTurnsPerPick: number | undefined
  readonly quarterTurnsPerHour: number | undefined
  readonly stages: readonly {
    readonly stage: Stage
    readonly label: string
    readonly hours: number
    readonly breakHours: number
    readonly n: number
  }[]
  readonly hours: number
  /** How units that a sitting did not state were had. */
  readonly filledFrom: readonly string[]
}

/** Sittings of one piece, in order; repeats, picks and length fill each other by the draft and the measured repeat. */
export function piecePace(
  sittings: readonly StagedSitting[],
  draft: Draft | undefined,
  replica: EvidenceOf,
): PiecePace {
  const repeatLengthMm = knownOf(replica.get(evidenceKey('repeatLength')))?.value
  const filled = fillProgress(sittings, { picks: draft?.picks.length, lengthMm: repeatLengthMm })
  const pace = paceOf(toPaceSittings(filled))
  const quarterTurnsPerPick = draft && meanQuarterTurns(draft)
  const stages = hoursByStage(sittings).map((row) => ({ ...row, label: STAGE_LABELS[row.stage] }))
  return {
    pace,
    quarterTurnsPerPick,
    quarterTurnsPerHour:
      quarterTurnsPerPick === undefined || pace.picksPerHour === null
        ? undefined
        : quarterTurnsPerHour(pace.picksPerHour, quarterTurnsPerPick),
    stages,
    hours: stages.reduce((total, { hours }) => total + hours, 0),
    filledFrom: [
      draft ? `a repeat of ${draft.picks.length} picks (the draft)` : '',
      repeatLengthMm === undefined ? '' : `a repeat of ${toDecimals(repeatLengthMm, 1)} mm (measured on the piece)`,
    ].filter(Boolean),
  }
}

/** Tablets turned in a pick, a half turn counted twice: the mean of the repeat. */
function meanQuarterTurns(draft: Draft): number {
  const { turns, picks } = turningOf(draft)
  return turns.reduce((total, turn) => total + Math.abs(turn), 0) / picks
}

export interface RateView {
  readonly label: string
  readonly value: string
  /** `over 312 minutes in 5 sittings`, or what is missing. */
  readonly base: string
}

export function toRates({ pace, quarterTurnsPerPick, quarterTurnsPerHour }: PiecePace): RateView[] {
  const { base } = pace
  return [
    { label: 'A repeat takes', value: figure(pace.minutesPerRepeat, 'min'), base: toBase(base.repeats, 'repeats') },
    { label: 'Picks in an hour', value: figure(pace.picksPerHour, ''), base: toBase(base.picks, 'picks') },
    {
      label: 'Woven in an hour',
      value: figure(pace.mmPerHour === null ? null : pace.mmPerHour / 10, 'cm'),
      base: toBase(base.lengthMm, 'length'),
    },
    {
      label: 'Quarter turns in an hour',
      value: figure(quarterTurnsPerHour ?? null, ''),
      base:
        quarterTurnsPerPick === undefined
          ? 'needs a draft'
          : `${toSignificant(quarterTurnsPerPick, 3)} in a pick, from the draft`,
    },
  ]
}

const figure = (value: number | null, unit: string) =>
  value === null ? 'not known' : [toSignificant(value, 3), unit].filter(Boolean).join(' ')

function toBase({ minutes, n }: PaceBase, unit: string): string {
  if (n === 0) return `no sitting at the loom states ${unit}`
  return `over ${toDecimals(minutes, 0)} min in ${n} ${n === 1 ? 'sitting' : 'sittings'}, breaks taken off`
}
