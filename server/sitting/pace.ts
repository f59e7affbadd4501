import type { Draft } from '../../shared/draft/draft.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { toDecimals, toSignificant } from '../../shared/measure/rounding.ts'
import { fillProgress } from '../../shared/work/fill-progress.ts'
import { toPaceSittings, type StagedSitting } from '../../shared/work/net-progress.ts'
import { hoursByStage, paceOf, quarterTurnsPerHour, type Pace, type PaceBase } from '../../shared/work/pace.ts'
import { STAGE_LABELS, type Stage } from '../../shared/work/stage.ts'

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

/** How long a repeat of a piece is, and how that is known: `measured on the piece`. */
export interface RepeatLength {
  readonly mm: number
  readonly from: string
}

/**
 * The one pace of a piece, wherever it is shown: repeats, picks and length fill each other by the draft and by the length
 * of a repeat.
 * @param sittings of one piece, in order
 */
export function piecePace(
  sittings: readonly StagedSitting[],
  draft: Draft | undefined,
  repeatLength: RepeatLength | undefined,
): PiecePace {
  const filled = fillProgress(sittings, { picks: draft?.picks.length, lengthMm: repeatLength?.mm })
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
      repeatLength ? `a repeat of ${toDecimals(repeatLength.mm, 1)} mm (${repeatLength.from})` : '',
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
  readonly isKnown: boolean
  /** `over 312 min in 5 sittings`, or what is missing. */
  readonly base: string
}

export function toRates({ pace, quarterTurnsPerPick, quarterTurnsPerHour }: PiecePace): RateView[] {
  const { base } = pace
  const perPick =
    quarterTurnsPerPick === undefined
      ? 'needs a draft'
      : `${toSignificant(quarterTurnsPerPick, 3)} in a pick, from the draft`
  const cmPerHour = pace.mmPerHour === null ? null : pace.mmPerHour / 10
  return [
    toRate('A repeat takes', pace.minutesPerRepeat, 'min', toBase(base.repeats, 'repeats')),
    toRate('Picks in an hour', pace.picksPerHour, '', toBase(base.picks, 'picks')),
    toRate('Woven in an hour', cmPerHour, 'cm', toBase(base.lengthMm, 'length')),
    toRate('Quarter turns in an hour', quarterTurnsPerHour ?? null, '', perPick),
  ]
}

function toRate(label: string, rate: number | null, unit: string, base: string): RateView {
  if (rate === null) return { label, value: 'not known', isKnown: false, base }
  return { label, value: [toSignificant(rate, 3), unit].filter(Boolean).join(' '), isKnown: true, base }
}

/** How units that a sitting did not state were had, in a sentence; empty when nothing could fill them. */
export const toRateNote = ({ filledFrom }: PiecePace) =>
  filledFrom.length === 0
    ? ''
    : `Where a sitting states one unit only, the others follow from ${filledFrom.join(' and ')}.`

function toBase({ minutes, n }: PaceBase, unit: string): string {
  if (n === 0) return `no sitting at the loom states ${unit}`
  return `over ${toDecimals(minutes, 0)} min in ${n} ${n === 1 ? 'sitting' : 'sittings'}`
}
