import type { ChoiceNode, DateNode, EdtfNode, IntervalNode, YearNode } from 'edtf'

/** Earliest and latest astronomical year; null where it is open or not known. */
export type Years = readonly [earliest: number | null, latest: number | null]

/** The bits of the year, month and day in the parser's masks over YYYYMMDD, the first digit lowest. */
export const YEAR_BITS = 0b1111
export const MONTH_BITS = 0b110000
export const DAY_BITS = 0b11000000

export function yearsOf(node: EdtfNode): Years {
  switch (node.type) {
    case 'Season':
      return [node.values[0], node.values[0]]
    case 'Year':
      return significantYears(node)
    case 'Interval':
      return intervalYears(node)
    case 'Set':
    case 'List':
      return choiceYears(node)
    case 'Decade':
    case 'Century':
      return [null, null]
    default:
      return dateYears(node)
  }
}

/** `-04XX` runs from -499 to -400: of a year before 0 the larger number is the earlier one. */
export function dateYears({ values, unspecified = 0 }: DateNode): Years {
  const year = values[0] ?? 0
  const masked = unspecified & YEAR_BITS
  if (masked === 0) return [year, year]
  if (masked === YEAR_BITS) return [null, null]
  const digits = String(Math.abs(year)).padStart(4, '0')
  const fill = (by: string) => Number([...digits].map((digit, place) => (masked & (1 << place) ? by : digit)).join(''))
  const [low, high] = [fill('0'), fill('9')]
  // `-00XX` reaches us as minus zero.
  return year < 0 || Object.is(year, -0) ? [-high, 0 - low] : [low, high]
}

/** `1950S2` is some year from 1900 to 1999, estimated to be 1950. */
function significantYears({ values: [year], significant }: YearNode): Years {
  const size = Math.abs(year)
  const places = String(size).length - (significant ?? Infinity)
  if (places <= 0) return [year, year]
  const step = 10 ** places
  const low = Math.floor(size / step) * step
  return year < 0 ? [-(low + step - 1), 0 - low] : [low, low + step - 1]
}

function intervalYears({ values: [from, to] }: IntervalNode): Years {
  return [isNode(from) ? dateYears(from)[0] : null, isNode(to) ? dateYears(to)[1] : null]
}

function choiceYears({ values, earlier, later }: ChoiceNode): Years {
  const all = values.flatMap((value) => (isRun(value) ? value.map(dateYears) : [dateYears(value)]))
  const firsts = all.map(([first]) => first)
  const lasts = all.map(([, last]) => last)
  return [
    earlier || firsts.includes(null) ? null : Math.min(...firsts.filter((year) => year !== null)),
    later || lasts.includes(null) ? null : Math.max(...lasts.filter((year) => year !== null)),
  ]
}

/** An array has a `values` of its own, so that asking for that key would not tell the two apart. */
export const isRun = (value: DateNode | readonly [DateNode, DateNode]): value is readonly [DateNode, DateNode] =>
  Array.isArray(value)

export const isNode = (end: DateNode | number | null): end is DateNode => typeof end === 'object' && end !== null

/** What the grammar lets through although it is no date; undefined when all is well. */
export function findProblem(node: EdtfNode): string | undefined {
  if (node.type === 'Year' && !Number.isSafeInteger(node.values[0]))
    return 'That is more years than can be sorted here.'
  if (node.type === 'Interval' && !node.values.some(isNode))
    return 'This interval has neither a beginning nor an end. Leave the date empty if it is not known.'
  const runs = runsOf(node)
  if (runs.some((run) => run.some(isMissingLeapDay)))
    return '29 February is only there in leap years; please look again.'
  if (runs.some(([from, to]) => from && to && isLater(from, to)))
    return 'The end is before the beginning; please look again.'
  return undefined
}

/** All dates of an expression, those that make an interval together. */
function runsOf(node: EdtfNode): readonly (readonly DateNode[])[] {
  if (node.type === 'Interval') return [node.values.filter(isNode)]
  if (node.type === 'Set' || node.type === 'List') return node.values.map((value) => (isRun(value) ? value : [value]))
  return node.type === undefined || node.type === 'Date' ? [[node]] : []
}

function isMissingLeapDay({ values: [year = 0, month, day], unspecified = 0 }: DateNode): boolean {
  return month === 1 && day === 29 && unspecified === 0 && !(year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0))
}

function isLater(from: DateNode, to: DateNode): boolean {
  const [first, last] = [dateYears(from)[0], dateYears(to)[1]]
  if (first === null || last === null) return false
  if (first !== last || from.unspecified || to.unspecified) return first > last
  for (const place of [1, 2]) {
    const [a, b] = [from.values[place], to.values[place]]
    if (a === undefined || b === undefined || a < b) return false
    if (a > b) return true
  }
  return false
}
