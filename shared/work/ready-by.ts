import { requireNotNegative, requirePositive } from '../measure/argument.ts'

/** Days on which nothing is woven, both ends with it, `2026-12-20`. */
export interface DaysOff {
  readonly from: string
  readonly to: string
}

export interface Working {
  readonly hoursPerWeek: number
  /** Days of the week on which there is work, Monday 1 to Sunday 7; the hours are spread evenly over them. */
  readonly weekdays: readonly number[]
  readonly daysOff: readonly DaysOff[]
}

/** Further ahead than this no date is named. */
const MOST_DAYS = 7305

/**
 * The day on which so many hours are worked, counted from the morning of a day.
 * @param hours zero or more
 * @param today the first day that may be worked, `2026-11-28`
 * @param working hours a week more than zero, at least one weekday
 * @returns the day on which the last hour is worked; today for no hours; null where it is more than twenty years ahead
 * @throws RangeError when a number or a day is out of range
 * @example readyBy(10, '2026-11-30', { hoursPerWeek: 10, weekdays: [1, 3], daysOff: [] }) // '2026-12-02', a Wednesday
 */
export function readyBy(hours: number, today: string, working: Working): string | null {
  requireNotNegative('hours', hours)
  const weekdays = new Set(working.weekdays)
  if (weekdays.size === 0 || [...weekdays].some((day) => !Number.isInteger(day) || day < 1 || day > 7))
    throw new RangeError('weekdays must be some of 1 to 7')
  const perDay = requirePositive('hoursPerWeek', working.hoursPerWeek) / weekdays.size
  const off = working.daysOff.map(({ from, to }) => [dayNumber(from), dayNumber(to)] as const)
  const first = dayNumber(today)
  if (hours === 0) return today
  // A whole number of days is not one more for the last binary digit.
  let daysLeft = Math.ceil(hours / perDay - 1e-9)
  for (let day = first; day < first + MOST_DAYS; day += 1) {
    if (!weekdays.has(weekdayOf(day)) || off.some(([from, to]) => day >= from && day <= to)) continue
    daysLeft -= 1
    if (daysLeft <= 0) return dayText(day)
  }
  return null
}

/** Monday 1 to Sunday 7; the first of January 1970 was a Thursday. */
const weekdayOf = (day: number): number => ((((day + 3) % 7) + 7) % 7) + 1

/**
 * Days since the first of January 1970, by the Gregorian calendar.
 * @throws RangeError when it is no day
 * @example dayNumber('1970-01-02') // 1; dayNumber('2026-02-30') throws
 */
export function dayNumber(day: string): number {
  const time = /^\d{4}-\d{2}-\d{2}$/.test(day) ? Date.parse(`${day}T00:00:00Z`) : NaN
  if (Number.isNaN(time) || dayText(time / 86_400_000) !== day)
    throw new RangeError(`day must be such as 2026-03-14, not ${JSON.stringify(day)}`)
  return time / 86_400_000
}

const dayText = (day: number): string => new Date(day * 86_400_000).toISOString().slice(0, 10)
