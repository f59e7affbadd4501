import { toDecimals } from '../../shared/measure/rounding.ts'
import type { Calibration } from '../../shared/work/calibration.ts'
import { QUOTE_STAGES } from '../../shared/price/quote-entry.ts'
import { readyBy } from '../../shared/work/ready-by.ts'
import { dayInWords, durationInWords } from '../../shared/work/time-words.ts'
import { formFields, problemList, type FieldView } from '../field.ts'
import type { PageHead } from '../pages.ts'
import { FORECAST_SPECS } from './fields.ts'
import { WEEKDAYS, type ReadForecast } from './form.ts'
import type { KeptForecast } from './queries.ts'
import type { Forecast } from './work-out-queries.ts'

declare module '../pages.ts' {
  interface Pages {
    'forecast/show': ForecastPage
    'forecast/list': ForecastListPage
  }
}

interface DateView {
  readonly label: string
  readonly hours: string
  readonly day: string
}

interface ForecastPage extends PageHead {
  readonly kicker: string
  readonly heading: string
  readonly lead: string
  readonly backPath: string
  readonly backLabel: string
  readonly action: string
  readonly hidden: readonly { readonly name: string; readonly value: string }[]
  /** Empty where nothing can be foretold yet. */
  readonly forecast: ForecastView | ''
  readonly why: string
  readonly fields: Readonly<Record<string, FieldView>>
  readonly days: readonly FieldView[]
  readonly expects: readonly FieldView[]
  readonly hasExpected: boolean
  readonly dates: readonly DateView[]
  readonly mayKeep: boolean
  readonly quotePath: string
  readonly kept: readonly KeptView[]
}

interface ForecastView {
  readonly big: readonly { readonly label: string; readonly value: string; readonly base: string }[]
  readonly rows: readonly {
    readonly label: string
    readonly likely: string
    readonly range: string
    readonly base: string
    readonly isGuess: boolean
  }[]
  readonly base: string
  readonly mean: string
  readonly done: string
}

interface KeptView {
  readonly id: number
  readonly day: string
  readonly about: string
  readonly path: string
  readonly range: string
  readonly likely: string
  readonly actual: string
  readonly held: string
  readonly by: string
  readonly base: string
  /** Where the band was woven as no piece yet that is known. */
  readonly field: FieldView | ''
}

interface ForecastListPage extends PageHead {
  readonly says: string
  readonly kept: readonly KeptView[]
}

export interface ShownForecast {
  readonly head: Pick<ForecastPage, 'kicker' | 'heading' | 'lead' | 'backPath' | 'backLabel' | 'action' | 'quotePath'> &
    Pick<PageHead, 'section'>
  readonly subject: { readonly name: 'piece' | 'revision'; readonly id: number }
  readonly read: ReadForecast
  readonly forecast: Forecast | undefined
  readonly why: string
  readonly today: string
  readonly mayKeep: boolean
  readonly kept: readonly KeptForecast[]
  readonly notice: string
}

export function forecastPage(shown: ShownForecast): ForecastPage {
  const { head, subject, read, forecast, today } = shown
  const fields = formFields(FORECAST_SPECS, read.entered, read.problems)
  const expects = QUOTE_STAGES.flatMap((stage) => fields[`expect-${stage}`] ?? [])
  return {
    ...head,
    title: `Forecast: ${head.heading}`,
    notice: shown.notice,
    why: shown.why,
    fields,
    expects,
    hasExpected: expects.some(({ value }) => value !== ''),
    days: WEEKDAYS.flatMap((day) => fields[day] ?? []),
    forecast: forecast ? forecastView(forecast) : '',
    hidden: [
      { name: subject.name, value: String(subject.id) },
      ...Object.entries(read.entered).flatMap(([name, value]) => (value === '' ? [] : [{ name, value }])),
    ],
    dates: forecast ? datesOf(forecast, read, today) : [],
    mayKeep: shown.mayKeep && forecast !== undefined,
    kept: shown.kept.map((each) => keptView(each, [])),
    problems: problemList(fields),
  }
}

function forecastView({ total, rows, base, doneMinutes, kind }: Forecast): ForecastView {
  const still = kind === 'remaining' ? 'still to go' : 'for the whole band'
  return {
    big: [
      { label: 'Low', value: hoursText(total.low), base: 'one case in ten takes less' },
      { label: 'Likely', value: hoursText(total.likely), base: `${still}; the median` },
      { label: 'High', value: hoursText(total.high), base: 'one case in ten takes more' },
    ],
    rows: rows.map(({ label, range, base: on, isGuess }) => ({
      ...{ label, base: on, isGuess, likely: hoursText(range.likely) },
      range: range.likely === 0 ? '' : `${hoursText(range.low)} to ${hoursText(range.high)}`,
    })),
    base,
    mean: `The median is shown: as many bands are expected to take less as more. The mean of many would be near ${hoursText(total.mean)}, for what goes wrong has no upper end. The ends of the stages are not added up; their scatter is taken as independent, which is an assumption of ours.`,
    done: doneMinutes > 0 ? `${durationInWords(doneMinutes)} are worked at these stages already, and not in it.` : '',
  }
}

function datesOf({ total }: Forecast, { wants: { working } }: ReadForecast, today: string): DateView[] {
  if (!working) return []
  return (['low', 'likely', 'high'] as const).map((each) => {
    const day = readyBy(total[each] / 60, today, working)
    return {
      label: { low: 'At the earliest', likely: 'Likely', high: 'At the latest' }[each],
      hours: hoursText(total[each]),
      day: day === null ? 'more than twenty years ahead' : dayInWords(day),
    }
  })
}

/** One figure behind the point is as much as a forecast can bear. */
const hoursText = (minutes: number): string => `${toDecimals(minutes / 60, minutes < 600 ? 1 : 0)} h`

function keptView(kept: KeptForecast, pieces: readonly { readonly id: number; readonly name: string }[]): KeptView {
  const { id, lowMinutes, highMinutes, actualMinutes, pieceId, pieceName, draftTitle } = kept
  const held =
    actualMinutes === undefined
      ? ''
      : actualMinutes > highMinutes
        ? 'took longer'
        : actualMinutes < lowMinutes
          ? 'took less'
          : 'held'
  const options = [['', 'not woven yet'] as const, ...pieces.map((piece) => [String(piece.id), piece.name] as const)]
  const spec = { piece: { label: `Woven from ${draftTitle} as`, options } }
  return {
    ...{ id, held, day: dayInWords(kept.madeOn), base: kept.base },
    about: pieceName || draftTitle || 'what is in the bin, or not shared any more',
    path: pieceId === undefined ? '' : `/pieces/${pieceId}`,
    range: `${hoursText(lowMinutes)} to ${hoursText(highMinutes)}`,
    likely: hoursText(kept.likelyMinutes),
    actual: actualMinutes === undefined ? 'not finished' : hoursText(actualMinutes),
    by: kept.keptBy === 'quote' ? 'with a quote' : 'by hand',
    field:
      kept.kind === 'whole' && pieces.length > 0 && actualMinutes === undefined
        ? { ...formFields(spec, { piece: String(pieceId ?? '') }).piece, id: `f-piece-${id}` }
        : '',
  }
}

export function forecastListPage(
  kept: readonly KeptForecast[],
  calibration: Calibration,
  pieces: readonly { readonly id: number; readonly name: string }[],
  notice: string,
): ForecastListPage {
  return {
    ...{ title: 'How forecasts held', section: 'pieces', notice },
    says: sayCalibration(calibration),
    kept: kept.map((each) => keptView(each, pieces)),
  }
}

export function sayCalibration({ n, held, interval, tooLong, tooShort }: Calibration): string {
  if (n === 0) return 'No forecast can be held against what it took yet: n = 0.'
  const counted = `${held} of ${n} past forecasts held: what it took lies within the 80 % interval. ${tooShort} took longer, ${tooLong} took less.`
  if (interval === null) return `${counted} Under five forecasts nothing is claimed of how often they hold.`
  const percent = (share: number) => `${toDecimals(share * 100, 0)} %`
  return `${counted} So in the long run between ${percent(interval[0])} and ${percent(interval[1])} hold (95 % interval, Wilson); 80 % is what they aim at.`
}
