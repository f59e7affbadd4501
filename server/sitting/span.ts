import { dayInWords } from '../../shared/work/time-words.ts'
import { addMinutes, minutesBetween, nextDayOf, offsetOf, toInstants, toLocal, type Which } from './time.ts'

/** When a sitting was, as typed and already read field by field; its day and zone are known to be good. */
export interface TypedSpan {
  readonly day: string
  readonly zone: string
  readonly start: string | undefined
  readonly end: string | undefined
  readonly minutes: number | undefined
  readonly startWhich: Which | ''
  readonly endWhich: Which | ''
  readonly nextDay: boolean
}

export interface Span {
  readonly startedAt: string | undefined
  readonly endedAt: string | undefined
  /** Elapsed, breaks included. */
  readonly minutes: number
}

export type SpanField = 'day' | 'start' | 'end' | 'minutes' | 'startWhich' | 'endWhich' | 'nextDay'
export type SpanProblems = Partial<Record<SpanField, string>>
type ReadSpan = { readonly ok: true; readonly span: Span } | { readonly ok: false; readonly problems: SpanProblems }

export const MOST_MINUTES = 24 * 60

/** The clocks of maker and machine may differ by so much before a time counts as not come yet. */
const CLOCK_SLACK_MINUTES = 10

const refuse = (problems: SpanProblems): ReadSpan => ({ ok: false, problems })

/** Start and end, or start and minutes, or minutes alone: as instants, or with what is wrong or has to be asked. */
export function readSpan(typed: TypedSpan, now: Date): ReadSpan {
  const { day, zone, start, end, minutes } = typed
  const read = start === undefined ? readMinutes(typed) : readTimes({ ...typed, start })
  if (!read.ok) return read
  const { span } = read
  if (end !== undefined && minutes !== undefined && minutes !== span.minutes)
    return refuse({
      minutes: `From ${start} to ${end} are ${span.minutes} minutes; please mend the times or empty this.`,
    })
  if (span.minutes === 0) return refuse({ minutes: 'A sitting takes at least a minute.' })
  if (span.minutes > MOST_MINUTES)
    return refuse({
      [end === undefined ? 'minutes' : 'end']: 'More than 24 hours is no single sitting; please split it.',
    })
  const clock = toLocal(now.toISOString(), zone)
  const lead = span.endedAt === undefined ? 0 : minutesBetween(now.toISOString(), span.endedAt)
  if (day > clock.day || lead > CLOCK_SLACK_MINUTES)
    return refuse({
      [day > clock.day ? 'day' : end === undefined ? 'minutes' : 'end']:
        `That has not come yet: it is ${clock.time} on ${dayInWords(clock.day)} in ${zone}. Note a sitting when it is over.`,
    })
  return read
}

function readMinutes({ end, minutes }: TypedSpan): ReadSpan {
  if (end !== undefined) return refuse({ start: 'An end needs a start; or give the minutes alone.' })
  if (minutes === undefined) return refuse({ start: 'Please give start and end, or the minutes alone.' })
  return { ok: true, span: { startedAt: undefined, endedAt: undefined, minutes } }
}

function readTimes(typed: TypedSpan & { readonly start: string }): ReadSpan {
  const { day, zone, start, end, minutes, nextDay } = typed
  const started = readInstant({ day, time: start, zone, which: typed.startWhich }, 'start')
  const ended = end === undefined ? undefined : readInstant(toEnd(typed, end), 'end')
  const problems = { ...(started.ok ? {} : started.problems), ...(ended && !ended.ok ? ended.problems : {}) }
  if (!started.ok || (ended && !ended.ok)) return refuse(problems)
  if (!ended) {
    if (minutes === undefined) return refuse({ end: 'Please give the end too, or the minutes.' })
    return { ok: true, span: { startedAt: started.at, endedAt: addMinutes(started.at, minutes), minutes } }
  }
  const elapsed = minutesBetween(started.at, ended.at)
  if (elapsed === 0) return refuse({ end: 'Start and end are the same time.' })
  if (elapsed < 0)
    return refuse(
      nextDay
        ? { end: 'This lies before the start even on the next day.' }
        : {
            nextDay: `${end} comes before ${start}. Did it end the next day? Then tick this; otherwise mend the times.`,
          },
    )
  return { ok: true, span: { startedAt: started.at, endedAt: ended.at, minutes: elapsed } }
}

interface TypedTime {
  readonly day: string
  readonly time: string
  readonly zone: string
  readonly which: Which | ''
}

const toEnd = ({ day, zone, nextDay, endWhich }: TypedSpan, end: string): TypedTime => ({
  day: nextDay ? nextDayOf(day) : day,
  time: end,
  zone,
  which: endWhich,
})

type ReadInstant = { readonly ok: true; readonly at: string } | { readonly ok: false; readonly problems: SpanProblems }

function readInstant({ day, time, zone, which }: TypedTime, field: 'start' | 'end'): ReadInstant {
  const found = toInstants(day, time, zone)
  if (found.kind === 'once') return { ok: true, at: found.at }
  if (found.kind === 'twice') {
    if (which !== '') return { ok: true, at: found[which] }
    const sentence = `The clocks went back, so ${time} came twice on ${dayInWords(day)}. Was it the first or the second?`
    return { ok: false, problems: { [`${field}Which`]: sentence } }
  }
  const [from, to] = [found.from, found.to].map((clock) => (clock.startsWith(day) ? clock.slice(11) : clock))
  const sentence = `There was no ${time} on ${dayInWords(day)} in ${zone}: the clocks went from ${from} straight to ${to}.`
  return { ok: false, problems: { [field]: sentence } }
}

/** Which of the two readings of a time that comes twice can be chosen, with the offset that tells them apart; empty otherwise. */
export function listReadings(day: string, time: string, zone: string): { which: Which; label: string }[] {
  const found = toInstants(day, time, zone)
  if (found.kind !== 'twice') return []
  return [
    { which: 'first', label: `the first ${time}, at ${offsetOf(found.first, zone)}` },
    { which: 'second', label: `the second ${time}, at ${offsetOf(found.second, zone)}` },
  ]
}
