import { z } from 'zod'
import { STAGES, type Stage } from '../../shared/work/stage.ts'
import { choice, day, decimalText, line, lines, parseForm, readEntered, wholeNumber, type Parsed } from '../form.ts'
import { readSpan, type Span } from './span.ts'
import { isZone } from './time.ts'

export const LENGTH_UNITS = { cm: 10, mm: 1 } as const
export type LengthUnit = keyof typeof LENGTH_UNITS

/** Stages in which cloth comes into being or is undone; only these count picks, repeats and length. */
export const COUNTING_STAGES: readonly Stage[] = ['sample', 'weave', 'unweave']

export interface SittingForm extends Span {
  readonly stage: Stage
  readonly maker: string
  readonly zone: string
  readonly day: string
  readonly breakMinutes: number
  readonly picks: number | undefined
  readonly repeats: number | undefined
  readonly lengthMm: number | undefined
  readonly note: string
}

const time = () =>
  line(8)
    .refine((text) => text === '' || toTime(text) !== undefined, 'Please give the time as 14:05.')
    .transform(toTime)

/** Two digits each, `09:05`; a dot for the colon is taken, seconds of 00 are dropped. */
export function toTime(text: string): string | undefined {
  const [, hour, minute] = /^(\d{1,2})[:.](\d{2})(?::00)?$/.exec(text) ?? []
  if (hour === undefined || minute === undefined || Number(hour) > 23 || Number(minute) > 59) return undefined
  return `${hour.padStart(2, '0')}:${minute}`
}

/** `90`, or hours and minutes as `1:30`; empty is undefined. */
const minutes = () =>
  line(8)
    .refine((text) => text === '' || toMinutes(text) !== undefined, 'Please give minutes, such as 90, or 1:30.')
    .transform(toMinutes)

function toMinutes(text: string): number | undefined {
  const [, hours = '0', rest] = /^(?:(\d{1,3}):(?=[0-5]\d$))?(\d{1,5})$/.exec(text) ?? []
  return rest === undefined ? undefined : Number(hours) * 60 + Number(rest)
}

const amount = (message: string) =>
  decimalText()
    .refine((text) => text === undefined || Number(text) >= 0, message)
    .transform((text) => (text === undefined ? undefined : Number(text)))

const which = () => choice(['', 'first', 'second'] as const, 'Please choose from the list.')

export const sittingSchema = z.object({
  stage: choice(STAGES, 'Please choose what the time went into.'),
  day: day()
    .refine((typed) => typed === undefined || typed >= '1900-01-01', 'Please look at the year again.')
    .transform((typed, check) => {
      if (typed === undefined) check.addIssue({ code: 'custom', message: 'Please give the day.' })
      return typed ?? ''
    }),
  start: time(),
  startWhich: which(),
  end: time(),
  endWhich: which(),
  nextDay: line(10),
  minutes: minutes(),
  breakMinutes: minutes(),
  picks: wholeNumber(0, 1_000_000),
  repeats: amount('Please give a number of repeats, 0 or more.'),
  length: amount('Please give a length, 0 or more.'),
  lengthUnit: choice(Object.keys(LENGTH_UNITS) as LengthUnit[], 'Please choose cm or mm.'),
  note: lines(),
  maker: line(200),
  zone: line(60).refine(isZone, 'Please give a zone by its name in the time zone list, such as Europe/Lisbon.'),
  keepBoth: line(2000),
})

export type SittingEntered = Record<keyof z.output<typeof sittingSchema>, string>

export const enteredSitting = (body: unknown): SittingEntered =>
  readEntered(body, Object.keys(sittingSchema.shape) as (keyof SittingEntered)[])

/**
 * A sitting as typed. What needs an answer (a time that comes twice, an end before the start) is asked in the field
 * that takes it; overlaps are the route's to ask, since only the database knows them.
 */
export function readSittingForm(body: unknown, now: Date): Parsed<SittingForm, SittingEntered> {
  const typed = parseForm(body, sittingSchema)
  if (!typed.ok) return typed
  const { value } = typed
  const entered = enteredSitting(body)
  const read = readSpan({ ...value, nextDay: value.nextDay !== '' }, now)
  const problems = {
    ...(read.ok ? breakProblem(value.breakMinutes, read.span.minutes) : read.problems),
    ...countProblem(value),
  }
  if (!read.ok || Object.keys(problems).length > 0) return { ok: false, entered, problems }
  const { stage, maker, zone, picks, repeats, length, lengthUnit, note, breakMinutes = 0 } = value
  const lengthMm = length === undefined ? undefined : toLengthMm(length, lengthUnit)
  return {
    ok: true,
    value: { stage, maker, zone, day: value.day, ...read.span, breakMinutes, picks, repeats, lengthMm, note },
  }
}

function breakProblem(breakMinutes = 0, minutes: number): { breakMinutes?: string } {
  if (breakMinutes < minutes) return {}
  return { breakMinutes: `The whole sitting takes ${minutes} minutes; its breaks must be shorter than that.` }
}

type Counted = Pick<z.output<typeof sittingSchema>, 'stage' | 'picks' | 'repeats' | 'length'>

function countProblem(value: Counted): { picks?: string; repeats?: string; length?: string } {
  if (COUNTING_STAGES.includes(value.stage)) return {}
  const field = (['picks', 'repeats', 'length'] as const).find((name) => value[name] !== undefined)
  return field ? { [field]: 'Only weaving, unweaving and sampling count these; empty it or change the stage.' } : {}
}

/** 12.34 cm are 123.4 mm and not 123.39999999999999. */
const toLengthMm = (length: number, unit: LengthUnit) => Number((length * LENGTH_UNITS[unit]).toPrecision(12))
