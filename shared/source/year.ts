import type { CslDate } from './csl.ts'

const ROUGHLY = /^(?:c\.?|ca\.?|circa|about|around)\s+/i
const DASH = '\\s*[/–—-]\\s*'

/**
 * When something came out, as a maker types it, as a CSL date: a year, `1987-03`, a day, `1987–89`, `c. 1890`,
 * `450 BCE`. Anything else stays as words, which every style prints as they stand.
 * @example readYear('1987–89') // { 'date-parts': [[1987], [1989]] }; readYear('in press') // { literal: 'in press' }
 */
export function readYear(text: string): CslDate | undefined {
  const trimmed = text.trim()
  if (trimmed === '') return undefined
  const bare = trimmed.replace(ROUGHLY, '')
  const parts = readParts(bare)
  if (!parts) return { literal: trimmed }
  return { 'date-parts': parts, ...(bare === trimmed ? {} : { circa: true }) }
}

function readParts(text: string): number[][] | undefined {
  const before = /^(\d{1,5})\s*(?:BCE|BC|B\.C\.E?\.)$/i.exec(text)
  if (before) return Number(before[1]) > 0 ? [[-Number(before[1])]] : undefined
  const span = new RegExp(`^(\\d{4})${DASH}(\\d{4}|\\d{2})$`).exec(text)
  if (span && !isMonth(text)) {
    const [from, to = ''] = [span[1] ?? '', span[2]]
    const end = to.length === 2 ? from.slice(0, 2) + to : to
    return Number(end) > Number(from) ? [[Number(from)], [Number(end)]] : undefined
  }
  const day = /^(\d{1,4})(?:-(\d{2})(?:-(\d{2}))?)?$/.exec(text)
  if (!day) return undefined
  const numbers = day
    .slice(1)
    .filter((part) => part !== undefined)
    .map(Number)
  return isDate(numbers) ? [numbers] : undefined
}

/** `1987-03` is a month, `1987-89` a span. */
const isMonth = (text: string) => /^\d{4}-(?:0[1-9]|1[0-2])$/.test(text)

function isDate([year = 0, month, day]: readonly number[]): boolean {
  if (year === 0) return false
  if (month !== undefined && (month < 1 || month > 12)) return false
  return day === undefined || (day >= 1 && day <= (MOST_DAYS[(month ?? 1) - 1] ?? 0))
}
const MOST_DAYS = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]

/** A CSL date as the text that `readYear` reads. */
export function writeYear(date: CslDate | undefined): string {
  if (!date) return ''
  const parts = date['date-parts'] ?? []
  if (parts.length === 0) return date.literal ?? ''
  const text = parts.map(writeOne).join('/')
  return date.circa ? `c. ${text}` : text
}

function writeOne([year = 0, ...rest]: readonly number[]): string {
  if (year < 0) return `${-year} BCE`
  return [String(year), ...rest.map((part) => String(part).padStart(2, '0'))].join('-')
}
