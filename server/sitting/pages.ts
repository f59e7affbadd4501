import { STAGE_LABELS, STAGES } from '../../shared/work/stage.ts'
import { dayInWords, durationInWords } from '../../shared/work/time-words.ts'
import { CAUTIONS } from '../caution.ts'
import { formFields, problemList, type FieldSpec, type FieldView } from '../field.ts'
import type { Problems } from '../form.ts'
import type { PageHead } from '../pages.ts'
import { hiddenName } from '../rights/allowed.ts'
import { toTime, type SittingEntered, type SittingForm } from './form.ts'
import type { MadeFrom, Overlap, Sitting } from './queries.ts'
import { saySaid } from './said.ts'
import { listReadings } from './span.ts'
import { isZone, nextDayOf, toLocal } from './time.ts'

declare module '../pages.ts' {
  interface Pages {
    'sitting/edit': SittingEditPage
  }
}

interface SittingEditPage extends PageHead {
  readonly action: string
  readonly piece: { readonly id: number; readonly name: string }
  readonly fields: Record<keyof SittingEntered, FieldView>
  /** Questions that are asked only when what is typed raises them. */
  readonly asks: { readonly startWhich: boolean; readonly endWhich: boolean; readonly nextDay: boolean }
  readonly overlap: OverlapView
  /** About the backstrap. */
  readonly caution: string
  /** Who and where: folded away unless there is something to say. */
  readonly moreOpen: boolean
  readonly problems: readonly { href: string; text: string }[]
  /** What steps or clock said, before anybody corrected it; empty of a sitting that is typed. */
  readonly said: string
  /** What the sitting is made from, which the form sends along. */
  readonly from: readonly { readonly name: string; readonly value: string }[]
  /** Empty for a new sitting. */
  readonly deletePath: string
  readonly deleteWords: string
}

/** The tick carries the ids it was given for, so that another overlap asks anew. */
interface OverlapView {
  readonly shown: boolean
  readonly ids: string
  readonly checked: boolean
  readonly problem: string
  readonly others: readonly { path: string; text: string }[]
}

const FIELDS: Record<Exclude<keyof SittingEntered, 'startWhich' | 'endWhich' | 'nextDay'>, FieldSpec> = {
  stage: { label: 'What the time went into', options: STAGES.map((stage) => [stage, STAGE_LABELS[stage]] as const) },
  day: { label: 'Day', type: 'date', required: true },
  start: { label: 'Start', type: 'time' },
  end: { label: 'End', type: 'time' },
  minutes: { label: 'or minutes' },
  breakMinutes: { label: 'Breaks, minutes' },
  picks: { label: 'Picks', inputmode: 'numeric' },
  repeats: { label: 'Repeats', inputmode: 'decimal' },
  length: { label: 'Length', inputmode: 'decimal' },
  lengthUnit: {
    label: 'in',
    options: [
      ['cm', 'cm'],
      ['mm', 'mm'],
    ],
  },
  note: { label: 'Note', rows: 3 },
  maker: { label: 'Who worked', hint: 'Empty: the maker of the piece.' },
  zone: { label: 'Zone of the clock', hint: 'By its name in the time zone list, such as Europe/Lisbon.' },
  keepBoth: { label: 'Keep both' },
}

/** What the form asks now that it sees these times. */
export function askedBy(entered: SittingEntered, problems: Problems<SittingEntered>) {
  const { day, start, end, zone, nextDay } = entered
  const readings = (on: string, typed: string) => {
    const time = toTime(typed)
    return time && on !== '' && !problems.day && isZone(zone) ? listReadings(on, time, zone) : []
  }
  const endDay = nextDay !== '' && !problems.day && day !== '' ? nextDayOf(day) : day
  return {
    startReadings: readings(day, start),
    endReadings: readings(endDay, end),
    nextDay: nextDay !== '' || problems.nextDay !== undefined,
  }
}

/** What a new sitting is made from: a proposal of the steps by its key, or the clock that was stopped by its number. */
export interface NewFrom {
  readonly name: 'steps' | 'timer'
  readonly value: string
  readonly made: MadeFrom
}

const NEW_TITLES = { steps: 'Sitting from the steps', timer: 'Sitting by the clock', hand: 'New sitting' } as const

/** New, edit and shown again: one page, so that none forgets a field. */
export function sittingEditPage(
  piece: { readonly id: number; readonly name: string },
  sitting: Sitting | undefined,
  entered: SittingEntered,
  problems: Problems<SittingEntered> = {},
  overlaps: readonly Overlap[] = [],
  from?: NewFrom,
): SittingEditPage {
  const asked = askedBy(entered, problems)
  const which = (label: string, readings: ReturnType<typeof listReadings>): FieldSpec => ({
    label,
    options: [['', 'Please choose'], ...readings.map((reading) => [reading.which, reading.label] as const)],
  })
  const specs = {
    ...FIELDS,
    startWhich: which('Which start', asked.startReadings),
    endWhich: which('Which end', asked.endReadings),
    nextDay: { label: 'It ended the next day', control: 'tick' },
  } satisfies Record<keyof SittingEntered, FieldSpec>
  const fields = formFields(specs, entered, problems)
  return {
    title: sitting ? `Edit sitting of ${dayInWords(sitting.day)}` : NEW_TITLES[from?.name ?? 'hand'],
    section: 'pieces',
    action: sitting ? `/sittings/${sitting.id}` : `/pieces/${piece.id}/sittings`,
    piece: { id: piece.id, name: piece.name },
    fields,
    asks: {
      startWhich: asked.startReadings.length > 0,
      endWhich: asked.endReadings.length > 0,
      nextDay: asked.nextDay,
    },
    overlap: toOverlapView(entered.keepBoth, overlaps, problems.keepBoth ?? ''),
    caution: CAUTIONS.backstrap.text,
    moreOpen: Boolean(problems.maker ?? problems.zone),
    problems: problemList(fields),
    said: from
      ? saySaid({ ...from.made, zone: isZone(entered.zone) ? entered.zone : 'UTC' })
      : sitting
        ? saySaid(sitting)
        : '',
    from: from ? [{ name: from.name, value: from.value }] : [],
    deletePath: sitting ? `/sittings/${sitting.id}/delete` : '',
    deleteWords: sitting ? toSittingWords(sitting) : '',
  }
}

function toOverlapView(kept: string, overlaps: readonly Overlap[], problem: string): OverlapView {
  const ids = overlapIds(overlaps)
  return {
    shown: overlaps.length > 0,
    ids: ids || kept,
    checked: kept !== '' && kept === ids,
    problem,
    others: overlaps.map((other) => ({
      path: other.mayOpen ? `/sittings/${other.id}/edit` : '',
      text: toOverlapWords(other),
    })),
  }
}

export const overlapIds = (overlaps: readonly Overlap[]) => overlaps.map(({ id }) => id).join(' ')

function toOverlapWords({ pieceName, zone, startedAt, endedAt }: Overlap): string {
  if (pieceName === null) return hiddenName('piece')
  const [start, end] = [toLocal(startedAt, zone), toLocal(endedAt, zone)]
  return `${pieceName}, ${dayInWords(start.day)}, ${start.time} to ${end.time}`
}

const toSittingWords = ({ stage, minutes }: Sitting) => `${STAGE_LABELS[stage]}, ${durationInWords(minutes)}`

/** A blank sitting: today, at the stage of the one before, for work goes on where it stopped. */
export function blankSitting(today: string, zone: string, maker: string, last: Sitting | undefined): SittingEntered {
  return {
    ...{ stage: last?.stage ?? 'weave', day: today, start: '', startWhich: '', end: '', endWhich: '', nextDay: '' },
    ...{ minutes: '', breakMinutes: '', picks: '', repeats: '', length: '', lengthUnit: 'cm', note: '' },
    ...{ maker, zone: last?.zone ?? zone, keepBoth: '' },
  }
}

/** A sitting as it would be typed, with the answers that it was kept by. */
export function typedSitting(sitting: SittingForm, overlaps: readonly Overlap[]): SittingEntered {
  const { startedAt, endedAt, zone, picks, repeats, lengthMm, minutes, breakMinutes } = sitting
  const start = startedAt === undefined ? undefined : toLocal(startedAt, zone)
  const end = endedAt === undefined ? undefined : toLocal(endedAt, zone)
  const inMm = lengthMm !== undefined && lengthMm < 10
  return {
    ...{ stage: sitting.stage, day: sitting.day, note: sitting.note, maker: sitting.maker, zone },
    ...{ start: start?.time ?? '', startWhich: start?.which ?? '', end: end?.time ?? '', endWhich: end?.which ?? '' },
    nextDay: start && end && end.day > start.day ? 'yes' : '',
    minutes: start ? '' : String(minutes),
    breakMinutes: breakMinutes === 0 ? '' : String(breakMinutes),
    ...{ picks: toText(picks), repeats: toText(repeats), lengthUnit: inMm ? 'mm' : 'cm' },
    length: toText(lengthMm === undefined || inMm ? lengthMm : Number((lengthMm / 10).toPrecision(12))),
    keepBoth: overlapIds(overlaps),
  }
}

const toText = (value: number | undefined) => (value === undefined ? '' : String(value))
