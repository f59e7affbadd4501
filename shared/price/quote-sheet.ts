import { shown, type Shown, type ShownRow } from '../plan/say.ts'
import { sayMoney } from './money.ts'
import type { QuoteEntered } from './quote-entry.ts'
import { type Around, askedRows, buildRows, hourRows, materialRows, wageHow, wageRows } from './quote-rows.ts'
import { type QuoteWants, readQuote } from './read-quote.ts'
import { sayExact, sayHours } from './say-quote.ts'
import { type QuoteFigures, workOutQuote } from './work-out-quote.ts'

/** A quote in words and digits, as its page shows it; the browser writes the same while somebody types. */
export interface QuoteSheet {
  readonly figures: { readonly total: Shown; readonly hours: Shown; readonly wage: Shown }
  readonly hours: readonly ShownRow[]
  readonly materials: readonly ShownRow[]
  readonly build: readonly ShownRow[]
  readonly asked: readonly ShownRow[]
  readonly wages: readonly ShownRow[]
  readonly payments: readonly ShownRow[]
  readonly says: Readonly<Record<'hours' | 'materials' | 'range' | 'wage' | 'payments' | 'discount', string>>
}

export interface WorkedQuote {
  readonly sheet: QuoteSheet
  readonly figures: QuoteFigures
  readonly wants: QuoteWants
  readonly problems: Readonly<Record<string, string>>
}

/**
 * From what is typed to what is shown: the one way, on the server and in the browser.
 * @param entered as typed, every word of it
 * @returns the sheet, the figures behind it, and a sentence for each field that cannot be used
 * @example quoteSheet({ ...BLANK_QUOTE, 'hours-weave': '7.35', rate: '28.50' }).sheet.figures.total.text // '209.48 EUR'
 */
export function quoteSheet(entered: QuoteEntered): WorkedQuote {
  const { wants, problems } = readQuote(entered)
  const figures = workOutQuote(wants)
  const say = (minor: bigint) => sayMoney(minor, wants.currency)
  const around = { wants, figures, say }
  return {
    ...{ figures, wants, problems },
    sheet: {
      figures: bigFigures(around),
      hours: hourRows(around),
      materials: materialRows(around),
      build: buildRows(around),
      asked: askedRows(around),
      wages: wageRows(around),
      payments: figures.payments.map(({ percent, when, amount }, at) => ({
        ...{ key: String(at + 1), head: when, hex: '' },
        cells: [
          shown(`${sayExact(percent)} %`),
          shown(say(amount), sharedOut(sayExact(percent), say(figures.asked.total)), 'payments'),
        ],
      })),
      says: {
        hours: wants.stages.length === 0 ? 'No hours are said yet: a price without its hours is not worked out.' : '',
        materials: wants.materials.length === 0 ? 'No material is named yet.' : '',
        range: sayRange(around),
        wage: sayWage(around),
        payments: figures.payments.length === 0 ? 'No payments are agreed: all is due at once.' : '',
        discount:
          wants.discount?.by === 'amount' && wants.discount.minor > figures.asked.net
            ? 'The discount is more than the price, so it takes the price and no more.'
            : '',
      },
    },
  }
}

const sharedOut = (percent: string, total: string) =>
  `${percent} % of ${total}; the payments are shared out so that they add up to it exactly.`

function bigFigures({ wants, figures, say }: Around): QuoteSheet['figures'] {
  const { asked, cases, wages, isPriceSet } = figures
  const range = `${sayHours(cases.low.hours)} to ${sayHours(cases.high.hours)}`
  return {
    total: shown(
      say(asked.total),
      `${say(asked.work)} for the work + ${say(asked.shipping)} shipping + ${say(asked.tax)} tax, at ${isPriceSet ? 'the price that you set' : 'the price of the likely case'}`,
      'set-price',
    ),
    hours: shown(sayHours(cases.likely.hours), `Between ${range} in the low and the high case.`, 'hours-low'),
    wage: shown(
      wages.likely === null ? 'no hours yet' : say(wages.likely),
      wages.likely === null ? '' : wageHow({ wants, figures, say }, 'likely'),
      'set-price',
    ),
  }
}

function sayRange({ wants, figures: { cases } }: Around): string {
  if (wants.stages.length === 0) return ''
  if (wants.lowHours === null && wants.highHours === null)
    return 'No range of hours is said, so the three cases are alike. A forecast gives one.'
  return `The range is that of all hours together, ${sayHours(cases.low.hours)} to ${sayHours(cases.high.hours)}: limits of single stages are not added up. In the low and the high case each stage keeps its share.`
}

function sayWage({ figures: { wages }, say }: Around): string {
  const { low, high } = wages
  if (low === null || high === null) return ''
  // Few hours leave much for each, many hours little.
  return low === high
    ? `At this price an hour is paid ${say(low)}.`
    : `At this price an hour is paid ${say(low)} if the work goes quickly, and ${say(high)} if it is slow.`
}
