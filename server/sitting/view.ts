import type { Draft } from '../../shared/draft/draft.ts'
import { hoursByStage, workedMinutes } from '../../shared/work/pace.ts'
import { STAGE_LABELS } from '../../shared/work/stage.ts'
import { dayInWords, durationInWords } from '../../shared/work/time-words.ts'
import { piecePace, toRateNote, toRates, type RateView, type RepeatLength } from './pace.ts'
import type { Sitting } from './queries.ts'
import { toLocal } from './time.ts'

/** The work on a piece for `{{> work work}}`: sittings newest first, hours by stage, and the pace with what it stands on. */
export interface WorkView {
  readonly sittings: readonly SittingView[]
  readonly stages: readonly StageView[]
  readonly total: StageView
  /** The rates that are known. */
  readonly pace: readonly RateView[]
  /** How units that a sitting did not state were had; empty when nothing could fill them. */
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

export interface StageView {
  readonly stage: string
  readonly n: number
  readonly worked: string
  readonly breaks: string
}

/**
 * @param sittings of one piece, as `listSittings` gives them
 * @param maker of the piece: a sitting says who worked only when it was somebody else
 * @param mayEdit whether a sitting leads to its form
 * @param repeat by which repeats, picks and length fill each other
 */
export function workView(
  sittings: readonly Sitting[],
  maker: string,
  repeat: { readonly draft: Draft | undefined; readonly length: RepeatLength | undefined },
  mayEdit: boolean,
): WorkView {
  const pace = piecePace(sittings, repeat.draft, repeat.length)
  return {
    sittings: sittings.map((sitting) => toSittingView(sitting, maker, mayEdit)).reverse(),
    ...stageSums(sittings),
    pace: toRates(pace).filter(({ isKnown }) => isKnown),
    filled: toRateNote(pace),
    unwoven: sittings.some(({ stage }) => stage === 'unweave'),
  }
}

/** Time by stage, and all of it: the stages add up to it. */
export function stageSums(sittings: readonly Sitting[]): { stages: StageView[]; total: StageView } {
  const stages = hoursByStage(sittings)
  const sum = (minutes: readonly number[]) => durationInWords(minutes.reduce((total, one) => total + one, 0))
  return {
    stages: stages.map(({ stage, hours, breakHours, n }) => ({
      stage: STAGE_LABELS[stage],
      n,
      worked: durationInWords(hours * 60),
      breaks: durationInWords(breakHours * 60),
    })),
    total: {
      stage: 'All stages',
      n: sittings.length,
      worked: sum(sittings.map((sitting) => workedMinutes(sitting))),
      breaks: sum(sittings.map(({ breakMinutes }) => breakMinutes)),
    },
  }
}

function toSittingView(sitting: Sitting, maker: string, mayEdit: boolean): SittingView {
  return {
    path: mayEdit ? `/sittings/${sitting.id}/edit` : '',
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

/** `14:00 to 16:30`, with what tells two times of one name apart; empty where only the length is known. */
export function toTimes({ startedAt, endedAt, zone }: Pick<Sitting, 'startedAt' | 'endedAt' | 'zone'>): string {
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
