import type { ChoiceNode, DateNode, EdtfNode, IntervalNode } from 'edtf'
import { DAY_BITS, dateYears, isNode, isRun, MONTH_BITS, YEAR_BITS, yearsOf } from './dating-year.ts'

/** A date expression in English. Our own wording; the years are those of the common era, 450 BCE for -0449. */
export function phraseOf(node: EdtfNode): string {
  switch (node.type) {
    case 'Season':
      return `${SEASONS[node.values[1]] ?? `part ${node.values[1]}`} ${yearWords(node.values[0])}`
    case 'Year': {
      const [first, last] = yearsOf(node)
      const estimate = yearWords(node.values[0])
      return first === last ? estimate : `${between(first, last)}, estimated ${estimate}`
    }
    case 'Interval':
      return intervalPhrase(node)
    case 'Set':
    case 'List':
      return choicePhrase(node)
    case 'Decade':
    case 'Century':
      throw new RangeError(`node must not be a ${node.type}: its digits are those of a short year`)
    default:
      return datePhrase(node)
  }
}

function datePhrase(node: DateNode): string {
  const { approximate, uncertain } = node
  const parts = doubtfulParts(approximate, node)
  const doubts = doubtfulParts(uncertain, node)
  const about = parts === 'all' ? (/^(between|an unknown)/.test(bare(node)) ? 'approximately ' : 'about ') : ''
  return (
    about +
    bare(node) +
    (parts && parts !== 'all' ? `, ${parts} approximate` : '') +
    (doubts === 'all' ? ', uncertain' : doubts ? `, ${doubts} uncertain` : '')
  )
}

/** Which parts of the date a mark covers: 'all', their names, or '' for none. */
function doubtfulParts(mark: boolean | number | undefined, { values }: DateNode): string {
  if (!mark) return ''
  if (mark === true) return 'all'
  const bits = [YEAR_BITS, MONTH_BITS, DAY_BITS].slice(0, Math.min(3, values.length))
  const names = ['year', 'month', 'day'].filter((_name, place) => bits[place] !== undefined && mark & bits[place])
  return names.length === bits.length ? 'all' : names.join(' and ')
}

function bare(node: DateNode): string {
  const { values, unspecified = 0 } = node
  const [, month, day, hours, minutes] = values
  const year = yearOf(node)
  if (month === undefined) return year
  if ((unspecified & MONTH_BITS) === MONTH_BITS)
    return `${year}, ${day === undefined || unspecified & DAY_BITS ? 'month not known' : `day ${day} of an unknown month`}`
  if (unspecified & MONTH_BITS) return `${year}, month only partly known`
  const link = year.startsWith('the ') ? ' in' : unspecified & YEAR_BITS ? ' of a year' : ''
  const months = `${MONTHS[month] ?? ''}${link} ${year}`
  if (day === undefined) return months
  if ((unspecified & DAY_BITS) === DAY_BITS) return `${months}, day not known`
  if (unspecified & DAY_BITS) return `${months}, day only partly known`
  const time = hours === undefined ? '' : `, ${two(hours)}:${two(minutes ?? 0)}`
  return `${day} ${months}${time}`
}

function yearOf(node: DateNode): string {
  const [first, last] = dateYears(node)
  if (first === null || last === null) return 'an unknown year'
  if (first === last) return yearWords(first)
  // The decade of a year before 0 runs across two of ours: -048X is 490 to 481 BCE.
  if ((node.unspecified ?? 0) === 0b1000 && first >= 10) return `the ${first}s${first < 1000 ? ' CE' : ''}`
  return between(first, last)
}

function intervalPhrase({ values: [from, to] }: IntervalNode): string {
  if (!isNode(to)) return isNode(from) ? `${end(from)}${to === null ? ' to an unknown end' : ' or later'}` : ''
  if (!isNode(from)) return from === null ? `an unknown beginning to ${end(to)}` : `${end(to)} or earlier`
  return toCentury(from, to) ?? runPhrase(from, to)
}

function choicePhrase({ type, values, earlier, later }: ChoiceNode): string {
  const phrases = values.map((value) => (isRun(value) ? runPhrase(...value) : datePhrase(value)))
  const last = phrases.length - 1
  if (earlier) phrases[0] += ' or earlier'
  if (later) phrases[last] += ' or later'
  const [only] = values
  if (only && values.length === 1) return `${type === 'Set' && isRun(only) ? 'some time from ' : ''}${phrases[0]}`
  const word = type === 'Set' ? 'or' : 'and'
  return `${type === 'Set' ? 'either ' : ''}${phrases.slice(0, -1).join(', ')} ${word} ${phrases[last]}`
}

function runPhrase(from: DateNode, to: DateNode): string {
  const [first, last] = [end(from), end(to)]
  if (first === last) return first
  const era = / (BCE|CE)$/.exec(first)?.[0]
  return `${era && last.endsWith(era) ? first.slice(0, -era.length) : first} to ${last}`
}

const end = (node: DateNode) => {
  const phrase = datePhrase(node)
  return /^(approximately )?between/.test(phrase) ? `some time ${phrase}` : phrase
}

/** 0501/0600 is the 6th century, -0499/-0400 the 5th before the era; whole years without a mark only. */
function toCentury(from: DateNode, to: DateNode): string | undefined {
  if ([from, to].some((node) => node.values.length > 1 || node.unspecified || node.approximate || node.uncertain))
    return undefined
  const [first = 0, last = 0] = [from.values[0], to.values[0]]
  if (last - first !== 99 || last % 100 !== 0) return undefined
  return last > 0
    ? `${ordinal(last / 100)} century${last <= 1000 ? ' CE' : ''}`
    : `${ordinal(1 - last / 100)} century BCE`
}

const ordinal = (number: number) => {
  const rest = number % 100
  const ending = rest >= 11 && rest <= 13 ? 'th' : (['th', 'st', 'nd', 'rd'][rest % 10] ?? 'th')
  return `${number}${ending}`
}

/** A year as people write it; below 1000 the era is named, because a bare 599 could be either. */
function yearWords(year: number): string {
  const size = year > 0 ? year : 1 - year
  const digits = size >= 10_000 ? size.toLocaleString('en-GB') : String(size)
  return `${digits}${year <= 0 ? ' BCE' : year < 1000 ? ' CE' : ''}`
}

function between(first: number | null, last: number | null): string {
  if (first === null || last === null) return 'an unknown year'
  const [from, to] = [yearWords(first), yearWords(last)]
  const era = / (BCE|CE)$/.exec(from)?.[0]
  return `between ${era && to.endsWith(era) ? from.slice(0, -era.length) : from} and ${to}`
}

const two = (number: number) => String(number).padStart(2, '0')

const MONTHS = [
  ...['January', 'February', 'March', 'April', 'May', 'June'],
  ...['July', 'August', 'September', 'October', 'November', 'December'],
]

/** Source: Library of Congress, Extended Date/Time Format, level 1 "Seasons" and level 2 "Sub-year groupings". */
const SEASONS: Readonly<Record<number, string>> = {
  21: 'spring',
  22: 'summer',
  23: 'autumn',
  24: 'winter',
  25: 'spring (northern hemisphere)',
  26: 'summer (northern hemisphere)',
  27: 'autumn (northern hemisphere)',
  28: 'winter (northern hemisphere)',
  29: 'spring (southern hemisphere)',
  30: 'summer (southern hemisphere)',
  31: 'autumn (southern hemisphere)',
  32: 'winter (southern hemisphere)',
  33: 'first quarter of',
  34: 'second quarter of',
  35: 'third quarter of',
  36: 'fourth quarter of',
  37: 'first four months of',
  38: 'second four months of',
  39: 'last four months of',
  40: 'first half of',
  41: 'second half of',
}
