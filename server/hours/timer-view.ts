import { STAGE_LABELS, STAGES, type Stage } from '../../shared/work/stage.ts'
import { durationInWords } from '../../shared/work/time-words.ts'
import type { Db } from '../db/open.ts'
import type { SittingForm } from '../sitting/form.ts'
import { toLocal } from '../sitting/time.ts'
import { findTimer, secondsBetween, type Timer } from './timer-queries.ts'

/** The viewer's running clock for `{{> timer timer}}`, and where a clock may be started. */
export interface TimerView {
  /** Empty where none runs. */
  readonly runs: RunningView | ''
  /** Stages to start a clock at; empty where the page starts none. */
  readonly start: { readonly action: string; readonly stages: readonly StageChoice[] } | ''
  /** Where pause, go on, stop and throw away lead back to. */
  readonly back: string
}

interface RunningView {
  readonly stage: string
  readonly piece: { readonly path: string; readonly name: string }
  readonly isPaused: boolean
  readonly isStopped: boolean
  /** `since 10:02` or `10:02 to 11:40`. */
  readonly times: string
  readonly worked: string
  /** Seconds worked so far where it runs, for the script that counts on; empty otherwise. */
  readonly seconds: string
  readonly pauses: string
  readonly keepPath: string
}

interface StageChoice {
  readonly value: Stage
  readonly label: string
  readonly selected: boolean
}

/** @param pieceId of the page's piece, where a clock may be started at it */
export function timerView(db: Db, now: Date, back: string, pieceId?: number, last?: Stage): TimerView {
  const timer = findTimer(db)
  if (timer) return { runs: toRunning(timer, now), start: '', back }
  if (pieceId === undefined) return { runs: '', start: '', back }
  const chosen = last ?? 'thread'
  const stages = STAGES.map((value) => ({ value, label: STAGE_LABELS[value], selected: value === chosen }))
  return { runs: '', start: { action: `/pieces/${pieceId}/timer`, stages }, back }
}

function toRunning(timer: Timer, now: Date): RunningView {
  const { zone, startedAt, pausedAt, stoppedAt, pausedSeconds } = timer
  const seconds = workedSeconds(timer, now)
  const start = toLocal(startedAt, zone)
  const end = stoppedAt === undefined ? undefined : toLocal(stoppedAt, zone)
  const mark = ({ time, which }: typeof start) => (which === '' ? time : `${time} (${which})`)
  return {
    stage: STAGE_LABELS[timer.stage],
    piece: { path: `/pieces/${timer.pieceId}`, name: timer.pieceName },
    isPaused: pausedAt !== undefined,
    isStopped: stoppedAt !== undefined,
    times: end
      ? `${mark(start)} to ${mark(end)}${end.day === start.day ? '' : ' on another day'}`
      : `since ${mark(start)}`,
    worked: durationInWords(Math.floor(seconds / 60)),
    seconds: pausedAt === undefined && stoppedAt === undefined ? String(seconds) : '',
    pauses: pausedSeconds < 60 ? '' : durationInWords(Math.floor(pausedSeconds / 60)),
    keepPath: `/pieces/${timer.pieceId}/sittings/new?timer=${timer.id}`,
  }
}

/** Elapsed by instants, whatever the clocks of the place did meanwhile, and without the pauses. */
function workedSeconds({ startedAt, pausedAt, stoppedAt, pausedSeconds }: Timer, now: Date): number {
  const until = stoppedAt ?? pausedAt ?? now.toISOString()
  return Math.max(0, secondsBetween(startedAt, until) - pausedSeconds)
}

type TimedForm = SittingForm & { readonly startedAt: string; readonly endedAt: string }

/** A stopped clock as the sitting that it timed, on whole minutes; undefined while it runs. */
export function timedSitting(timer: Timer, maker: string): TimedForm | undefined {
  if (timer.stoppedAt === undefined) return undefined
  const [from, to] = [toMinute(timer.startedAt), toMinute(timer.stoppedAt)]
  const minutes = to - from
  const startedAt = toInstant(from)
  return {
    ...{ stage: timer.stage, maker, zone: timer.zone, day: toLocal(startedAt, timer.zone).day },
    ...{ startedAt, endedAt: toInstant(to), minutes },
    breakMinutes: Math.max(0, Math.min(Math.round(timer.pausedSeconds / 60), minutes - 1)),
    ...{ picks: undefined, repeats: undefined, lengthMm: undefined, note: '' },
  }
}

const toMinute = (at: string) => Math.round(Date.parse(at) / 60_000)
const toInstant = (minute: number) => new Date(minute * 60_000).toISOString().replace('.000Z', 'Z')
