import { fillProgress } from '../../shared/work/fill-progress.ts'
import { toPaceSittings } from '../../shared/work/net-progress.ts'
import { hoursByStage, paceOf, workedMinutes, type PaceBase } from '../../shared/work/pace.ts'
import { STAGE_LABELS } from '../../shared/work/stage.ts'
import { dayInWords, durationInWords } from '../../shared/work/time-words.ts'
import type { Sitting } from './queries.ts'
import { toLocal } from './time.ts'

/** The work on a piece for `{{> work work}}`: sittings newest first, hours by stage, and the pace with what it stands on. */
export interface WorkView {
  readonly sittings: readonly SittingView[]
  readonly stages: readonly StageView[]
  readonly total: StageView
  readonly pace: readonly { label: string; figure: string; base: string }[]
  /** How repeats and picks were had from each other; empty without a draft. */
  readonly filled: string
  /** Whether something was unwoven, so that the page says how that counts. */
  readonly unwoven: boolean
}

interface SittingView {
  readonly path: string
  readonly day: string
  readonly times: string
  readonly stage: string
  readonly worked: string
  readonly breaks: string
  readonly progress: string
  readonly maker: string
  readonly note: string
}

interface StageView {
  readonly stage: string
  readonly n: number
  readonly worked: string
  readonly breaks: string
}

/**
 * @param sittings of one piece, as `listSittings` gives them
 * @param maker of the piece: a sitting says who worked only when it was somebody else
 * @param repeatPicks picks of a repeat of its draft, by which repeats and picks fill each other
 */
export function workView(sittings: readonly Sitting[], maker: string, repeatPicks: number | undefined): WorkView {
  const stages = hoursByStage(sittings)
  return {
    sittings: sittings.map((sitting) => toSittingView(sitting, maker)).reverse(),
    stages: stages.map(({ stage, hours, breakHours, n }) => ({
      stage: STAGE_LABELS[stage],
      n,
      worked: durationInWords(hours * 60),
      breaks: durationInWords(breakHours * 60),
    })),
    total: {
      stage: 'All stages',
      n: sittings.length,
      worked: durationInWords(stages.reduce((sum, { hours }) => sum + hours, 0) * 60),
      breaks: durationInWords(stages.reduce((sum, { breakHours }) => sum + breakHours, 0) * 60),
    },
    pace: toPaceViews(fillProgress(sittings, { picks: repeatPicks })),
    filled: repeatPicks === undefined ? '' : `a repeat of the draft has ${repeatPicks} picks`,
    unwoven: sittings.some(({ stage }) => stage === 'unweave'),
  }
}

function toPaceViews(sittings: readonly Sitting[]): WorkView['pace'] {
  const { minutesPerRepeat, picksPerHour, mmPerHour, base } = paceOf(toPaceSittings(sittings))
  const rows = [
    { label: 'Minutes per repeat', figure: minutesPerRepeat, base: base.repeats },
    { label: 'Picks per hour', figure: picksPerHour, base: base.picks },
    { label: 'Centimetres per hour', figure: mmPerHour === null ? null : mmPerHour / 10, base: base.lengthMm },
  ]
  return rows.flatMap(({ label, figure, base }) =>
    figure === null ? [] : [{ label, figure: toFigure(figure), base: toBaseWords(base) }],
  )
}

/** Three figures: hours at a loom are not told more finely than that. */
const toFigure = (value: number) => (value >= 100 ? value.toFixed(0) : String(Number(value.toPrecision(3))))

const toBaseWords = ({ minutes, n }: PaceBase) =>
  `over ${durationInWords(minutes)} in ${n} ${n === 1 ? 'sitting' : 'sittings'}`

function toSittingView(sitting: Sitting, maker: string): SittingView {
  return {
    path: `/sittings/${sitting.id}/edit`,
    day: dayInWords(sitting.day),
    times: toTimes(sitting),
    stage: STAGE_LABELS[sitting.stage],
    worked: durationInWords(workedMinutes(sitting)),
    breaks: sitting.breakMinutes === 0 ? '' : durationInWords(sitting.breakMinutes),
    progress: toProgress(sitting),
    maker: sitting.maker === maker ? '' : sitting.maker,
    note: sitting.note,
  }
}

function toTimes({ startedAt, endedAt, zone }: Sitting): string {
  if (startedAt === undefined || endedAt === undefined) return ''
  const [start, end] = [toLocal(startedAt, zone), toLocal(endedAt, zone)]
  const mark = ({ time, which }: ReturnType<typeof toLocal>) => (which === '' ? time : `${time} (${which})`)
  return `${mark(start)} to ${mark(end)}${end.day === start.day ? '' : ' next day'}`
}

function toProgress({ stage, picks, repeats, lengthMm }: Sitting): string {
  const parts = [
    picks === undefined ? '' : `${picks} ${picks === 1 ? 'pick' : 'picks'}`,
    repeats === undefined ? '' : `${repeats} ${repeats === 1 ? 'repeat' : 'repeats'}`,
    lengthMm === undefined ? '' : lengthMm < 10 ? `${lengthMm} mm` : `${Number((lengthMm / 10).toPrecision(12))} cm`,
  ].filter(Boolean)
  return parts.length > 0 && stage === 'unweave' ? `undone: ${parts.join(', ')}` : parts.join(', ')
}
