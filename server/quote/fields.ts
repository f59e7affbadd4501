import {
  MATERIALS,
  materialFields,
  PRICE_UNITS,
  QUOTE_CHOICES,
  QUOTE_STAGES,
  stageFields,
  type PriceUnit,
  type QuoteChoice,
} from '../../shared/price/quote-entry.ts'
import { quoteStageLabel } from '../../shared/price/quote-rows.ts'
import type { FieldSpec } from '../field.ts'

const decimal = (label: string, hint = ''): FieldSpec => ({ label, inputmode: 'decimal', ...(hint ? { hint } : {}) })
const typed = (label: string, hint = ''): FieldSpec => ({ label, ...(hint ? { hint } : {}) })
const text = (label: string, hint = '', rows = 3): FieldSpec => ({ label, rows, ...(hint ? { hint } : {}) })
const chosen = <C extends QuoteChoice>(
  name: C,
  label: string,
  words: Readonly<Record<(typeof QUOTE_CHOICES)[C][number], string>>,
): FieldSpec => ({
  label,
  options: QUOTE_CHOICES[name].map((key) => [key, words[key as keyof typeof words]] as const),
})

const UNIT_LABELS: Readonly<Record<PriceUnit, string>> = {
  ...{ kg: 'a kilogram', '100g': '100 g', '50g': '50 g', whole: 'all of it' },
}

/** Every field of a quote; those of a maker's terms are among them. */
export const QUOTE_SPECS: Readonly<Record<string, FieldSpec>> = {
  binding: chosen('binding', 'What it is', { estimate: 'an estimate', quote: 'a quote with a fixed price' }),
  title: typed('Title'),
  maker: typed('Maker'),
  'maker-address': text('Address of the maker'),
  client: typed('Client'),
  'client-address': text('Address of the client'),
  'work-kind': typed('Kind of work', 'For your own lists: a museum day, a guild, a gift.'),
  work: text('What is woven'),
  'of-original': text('After which original', '', 2),
  deviations: text('Agreed deviations', 'What is otherwise than on the original, and why.'),
  size: typed('Size'),
  'width-tolerance': typed('The width may differ by', 'Such as 1 mm, or 5 %.'),
  'length-tolerance': typed('The length may differ by'),
  'colour-tolerance': typed('Colours', 'How near, and to what: the sample, a card.'),
  fibre: typed('Fibre content', 'Full names and shares, such as 100 % wool.'),
  care: text('Care', '', 2),
  sample: text('Sample', 'Whether one is woven first, and approved.', 2),
  delivery: text('Delivery', '', 2),
  'valid-until': { label: 'Valid until', type: 'date' },
  changes: text('Changes', 'Your own words: what a change costs, and that it is agreed in writing.'),
  cancelling: text('If it is cancelled', 'Your own words.'),
  remarks: text('Remarks'),
  'private-note': text('Note for yourself', 'Never on the document.'),
  'hours-base': text('Where the hours are from', 'Not on the document.', 2),
  shows: chosen('shows', 'On the document', { price: 'the price alone', hours: 'hours and rates too' }),
  currency: { label: 'Currency', hint: 'Three letters, such as EUR.', plain: true },
  rate: decimal('An hour costs', 'For every stage without a rate of its own.'),
  'hours-low': decimal('All hours, low', 'Of all stages together.'),
  'hours-high': decimal('All hours, high', 'Left empty, no range is said.'),
  waste: decimal('Waste, percent', 'On top of the grams: knots, ends, the last of a skein. Loom waste is in the plan.'),
  'overhead-by': chosen('overhead-by', 'Overhead', {
    ...{ none: 'none', hour: 'so much an hour', percent: 'percent of labour and materials' },
  }),
  overhead: decimal('How much'),
  'profit-by': chosen('profit-by', 'Profit', {
    ...{ none: 'none', markup: 'mark-up: percent of the cost', margin: 'margin: percent of the price' },
  }),
  profit: decimal('Percent'),
  'set-price': decimal(
    'The price that you set',
    'Of the work, before discount, shipping and tax. Left empty, that of the likely case.',
  ),
  'discount-by': chosen('discount-by', 'Discount', { none: 'none', percent: 'percent', amount: 'an amount' }),
  discount: decimal('How much'),
  shipping: decimal('Shipping'),
  'tax-name': typed('Name of the tax', 'Such as VAT.'),
  tax: decimal('Tax, percent'),
  'tax-on-shipping': chosen('tax-on-shipping', 'On shipping too', { yes: 'yes', no: 'no' }),
  payments: {
    ...{ label: 'Payments', rows: 4 },
    hint: 'One a line: the percent, and when it is due. The first is the deposit, such as “50 with the order”.',
  },
  ...Object.fromEntries(
    QUOTE_STAGES.flatMap((stage) => {
      const fields = stageFields(stage)
      return [
        [fields.hours, decimal(`${quoteStageLabel(stage)}, h`)],
        [fields.rate, decimal('Rate of its own')],
      ] as const
    }),
  ),
  ...Object.fromEntries(
    MATERIALS.flatMap((at) => {
      const fields = materialFields(at)
      return [
        [fields.name, typed(`Material ${at}`)],
        [fields.grams, decimal('Grams')],
        [fields.price, decimal('To buy it again')],
        [fields.unit, { label: 'for', options: PRICE_UNITS.map((unit) => [unit, UNIT_LABELS[unit]] as const) }],
      ] as const
    }),
  ),
}
