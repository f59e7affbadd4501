import { dayInWords } from '../work/time-words.ts'
import { sayMoney } from './money.ts'
import type { QuoteEntered } from './quote-entry.ts'
import { quoteStageLabel } from './quote-rows.ts'
import { quoteSheet } from './quote-sheet.ts'
import { sayExact, sayHours } from './say-quote.ts'

/** A line of the document: what, and how much or what about it. Line breaks in the text are the maker's own. */
export interface PaperLine {
  readonly label: string
  readonly text: string
}

/** The document of a quote, word for word: what is kept when it is sent, and shown ever after. */
export interface QuotePaper {
  /** `Estimate` or `Quote`. */
  readonly kind: string
  readonly number: string
  readonly version: string
  readonly title: string
  readonly days: readonly PaperLine[]
  readonly maker: PaperLine
  readonly client: PaperLine
  readonly work: readonly PaperLine[]
  /** Empty where the maker does not show them. */
  readonly hours: readonly PaperLine[]
  readonly price: readonly PaperLine[]
  readonly total: PaperLine
  readonly payments: readonly PaperLine[]
  /** What an estimate is, or that the price is fixed. */
  readonly binding: string
  readonly clauses: readonly PaperLine[]
}

/** What the document says of itself; empty number and no day while it is not sent. */
export interface PaperHead {
  readonly number: string
  readonly version: number
  readonly sentOn: string
}

const filled = (lines: readonly PaperLine[]): PaperLine[] => lines.filter(({ text }) => text !== '')

/**
 * The document of a quote.
 * @param entered as typed; its numbers can be used, which `quoteSheet` says
 * @param head number, version and day of sending
 * @returns texts alone, to be escaped where they are shown
 */
export function quotePaper(entered: QuoteEntered, { number, version, sentOn }: PaperHead): QuotePaper {
  const { figures, wants } = quoteSheet(entered)
  const typed = (name: string) => (entered[name] ?? '').trim()
  const say = (minor: bigint) => sayMoney(minor, wants.currency)
  const { asked, cases, charges } = figures
  const isEstimate = typed('binding') !== 'quote'
  const isDay = (text: string) => /^\d{4}-\d{2}-\d{2}$/.test(text)
  const tax = `${typed('tax-name') || 'Tax'}, ${sayExact(wants.tax)} % of ${say(asked.taxed)}`
  return {
    ...{ kind: isEstimate ? 'Estimate' : 'Quote', number, version: String(version) },
    title: typed('title') || 'A woven band',
    days: filled([
      { label: 'Sent on', text: sentOn && dayInWords(sentOn) },
      {
        label: 'Valid until',
        text: isDay(typed('valid-until')) ? dayInWords(typed('valid-until')) : typed('valid-until'),
      },
    ]),
    maker: { label: typed('maker'), text: typed('maker-address') },
    client: { label: typed('client'), text: typed('client-address') },
    work: filled([
      { label: 'What is woven', text: typed('work') },
      { label: 'After which original', text: typed('of-original') },
      { label: 'Where it departs from it, as agreed', text: typed('deviations') },
      { label: 'Size', text: typed('size') },
      { label: 'The width may differ by', text: typed('width-tolerance') },
      { label: 'The length may differ by', text: typed('length-tolerance') },
      { label: 'Colours', text: typed('colour-tolerance') },
      { label: 'Fibre content', text: typed('fibre') },
      { label: 'Care', text: typed('care') },
    ]),
    hours:
      typed('shows') === 'hours'
        ? cases.likely.stages.map(({ stage, hours, rate }) => ({
            label: quoteStageLabel(stage),
            text: `${sayHours(hours)} at ${say(rate)} an hour`,
          }))
        : [],
    price: [
      { label: 'The work, materials with it', text: say(asked.net) },
      ...(asked.discount > 0n ? [{ label: 'Discount', text: say(-asked.discount) }] : []),
      ...(asked.shipping > 0n ? [{ label: 'Shipping', text: say(asked.shipping) }] : []),
      ...(wants.tax.n > 0n ? [{ label: tax, text: say(asked.tax) }] : []),
    ],
    total: { label: 'To pay', text: say(asked.total) },
    payments: figures.payments.map(({ when, amount, percent }) => ({
      label: `${sayExact(percent)} % ${when}`,
      text: say(amount),
    })),
    binding: isEstimate
      ? cases.low.hours === cases.high.hours
        ? 'This is an estimate, not a fixed price. If it is going to cost more, you are told before the work goes on.'
        : `This is an estimate, not a fixed price. The work is expected to take between ${sayHours(cases.low.hours)} and ${sayHours(cases.high.hours)}; by the same rates that would be between ${say(charges.low.total)} and ${say(charges.high.total)}. If it is going to cost more than is said above, you are told before the work goes on.`
      : 'This price is fixed for the work described here. What is changed is agreed in writing, with what it costs.',
    clauses: filled([
      { label: 'Sample', text: typed('sample') },
      { label: 'Delivery', text: typed('delivery') },
      { label: 'Changes', text: typed('changes') },
      { label: 'If it is cancelled', text: typed('cancelling') },
      { label: 'Remarks', text: typed('remarks') },
    ]),
  }
}
