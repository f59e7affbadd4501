import type { Draft } from '../../shared/draft/draft.ts'
import type { ForecastStage } from '../../shared/work/new-piece.ts'
import { dayNumber, type Working } from '../../shared/work/ready-by.ts'
import { QUOTE_STAGES } from '../../shared/price/quote-entry.ts'
import { readEntered } from '../form.ts'

export const FORECAST_FIELDS = [
  ...['repeats', 'cm', 'picksPerCm', 'hoursPerWeek', 'daysOff'],
  ...['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'],
  ...QUOTE_STAGES.map((stage) => `expect-${stage}`),
] as const
export const WEEKDAYS = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const

export interface ForecastWants {
  /** Null where it is not said how long the band is to be. */
  readonly repeats: number | null
  readonly expected: Readonly<Partial<Record<ForecastStage, number>>>
  /** Null where no hours a week are said. */
  readonly working: Working | null
}

export interface ReadForecast {
  readonly entered: Readonly<Record<string, string>>
  readonly wants: ForecastWants
  readonly problems: Readonly<Record<string, string>>
}

const MOST_REPEATS = 100_000

/**
 * What a forecast is asked for, from an address or a form. Nothing is refused as a whole.
 * @param usual repeats that the plan of a piece gives, where nothing is typed
 */
export function readForecast(source: unknown, { picks }: Pick<Draft, 'picks'>, usual: number | null): ReadForecast {
  const entered = readEntered(source, FORECAST_FIELDS)
  const problems: Record<string, string> = {}
  const decimal = (name: string, most: number): number | null => {
    const text = (entered[name] ?? '').trim()
    if (text === '') return null
    const value = /^\d{1,7}(?:[.,]\d{1,6})?$/.test(text) ? Number(text.replace(',', '.')) : 0
    if (value > 0 && value <= most) return value
    problems[name] =
      value > most ? `Please look at this again: at most ${most}.` : 'Please type a number above zero, such as 13.5.'
    return null
  }
  const [typed, cm, picksPerCm] = [decimal('repeats', MOST_REPEATS), decimal('cm', 100_000), decimal('picksPerCm', 200)]
  if (typed === null && cm !== null && picksPerCm === null) problems.picksPerCm ??= 'A length needs the picks per cm.'
  const byLength = cm !== null && picksPerCm !== null ? (cm * picksPerCm) / picks.length : null
  if (byLength !== null && byLength > MOST_REPEATS) problems.cm ??= 'Please look at this again: too many repeats.'
  const repeats = typed ?? (byLength !== null && byLength <= MOST_REPEATS ? byLength : null) ?? usual
  const expected = Object.fromEntries(
    QUOTE_STAGES.flatMap((stage) => {
      const hours = decimal(`expect-${stage}`, 10_000)
      return hours === null ? [] : [[stage, hours * 60]]
    }),
  )
  const hoursPerWeek = decimal('hoursPerWeek', 168)
  const daysOff = readDaysOff(entered.daysOff ?? '', problems)
  const chosen = WEEKDAYS.flatMap((day, at) => (entered[day] === '' ? [] : [at + 1]))
  const weekdays = chosen.length === 0 ? [1, 2, 3, 4, 5, 6, 7] : chosen
  return {
    entered,
    problems,
    wants: { repeats, expected, working: hoursPerWeek === null ? null : { hoursPerWeek, weekdays, daysOff } },
  }
}

function readDaysOff(text: string, problems: Record<string, string>): { from: string; to: string }[] {
  const lines = text.split('\n').filter((each) => each.trim() !== '')
  if (lines.length > 100) problems.daysOff = 'At most 100 lines.'
  return lines.slice(0, 100).flatMap((written) => {
    const [, from = '', to = from] =
      /^\s*(\d{4}-\d{2}-\d{2})(?:\s*(?:to|-|–|\/)\s*(\d{4}-\d{2}-\d{2}))?\s*$/.exec(written) ?? []
    if (isDay(from) && isDay(to) && from <= to) return [{ from, to }]
    problems.daysOff = 'One a line: a day, or a first and a last one, such as 2026-12-20 to 2027-01-03.'
    return []
  })
}

function isDay(text: string): boolean {
  try {
    dayNumber(text)
    return true
  } catch (error) {
    if (error instanceof RangeError) return false
    throw error
  }
}
