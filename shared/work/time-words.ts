import { requireNotNegative } from '../measure/argument.ts'

const MONTHS = [
  ...['January', 'February', 'March', 'April', 'May', 'June'],
  ...['July', 'August', 'September', 'October', 'November', 'December'],
]

/**
 * A day as it is written out in British English.
 * @param day `2026-03-14`
 * @returns `14 March 2026`
 * @throws RangeError when it is not written as year-month-day, or the month is none
 * @example dayInWords('2026-03-04') // '4 March 2026'; dayInWords('2026-13-01') throws
 */
export function dayInWords(day: string): string {
  const [, year = '', month = '', date = ''] = /^(\d{4})-(\d{2})-(\d{2})$/.exec(day) ?? []
  const name = MONTHS[Number(month) - 1]
  if (name === undefined) throw new RangeError(`day must be such as 2026-03-14, not ${JSON.stringify(day)}`)
  return `${Number(date)} ${name} ${year}`
}

/**
 * A length of time in hours and minutes, rounded to the minute.
 * @param minutes zero or more
 * @returns `1 h 30 min`; a part that is nothing is left out, but for `0 min`
 * @throws RangeError when it is negative or not finite
 * @example durationInWords(90) // '1 h 30 min'; durationInWords(120) // '2 h'; durationInWords(59.6) // '1 h'
 */
export function durationInWords(minutes: number): string {
  const whole = Math.round(requireNotNegative('minutes', minutes))
  const [hours, rest] = [Math.floor(whole / 60), whole % 60]
  if (hours === 0) return `${rest} min`
  return rest === 0 ? `${hours} h` : `${hours} h ${rest} min`
}
