import { STAGES, type Stage } from '../work/stage.ts'

/** What hours are asked for in a quote: what is unwoven is counted with the weaving. */
export const QUOTE_STAGES = STAGES.filter((stage): stage is QuoteStage => stage !== 'unweave')
export type QuoteStage = Exclude<Stage, 'unweave'>

/** As many kinds of material as a quote holds. */
export const MATERIALS = [1, 2, 3, 4, 5, 6, 7, 8] as const

/** What is chosen from a list in a quote, the first one being the usual. */
export const QUOTE_CHOICES = {
  binding: ['estimate', 'quote'],
  'overhead-by': ['none', 'hour', 'percent'],
  'profit-by': ['none', 'markup', 'margin'],
  'discount-by': ['none', 'percent', 'amount'],
  'tax-on-shipping': ['yes', 'no'],
  shows: ['price', 'hours'],
} as const
export type QuoteChoice = keyof typeof QUOTE_CHOICES

/** What a material is priced by; `whole`: the price is for all of it that the line names. */
export const PRICE_UNITS = ['kg', '100g', '50g', 'whole'] as const
export type PriceUnit = (typeof PRICE_UNITS)[number]

/** The numbers of a quote beside its stages and materials: what it is worked out from. */
export const QUOTE_NUMBERS = [
  ...['currency', 'rate', 'hours-low', 'hours-high', 'waste', 'overhead', 'profit', 'set-price', 'discount'],
  ...['shipping', 'tax', 'payments'],
] as const

/** The words of a quote: what its document says. */
export const QUOTE_WORDS = [
  ...['title', 'maker', 'maker-address', 'client', 'client-address', 'work', 'of-original', 'deviations'],
  ...['size', 'width-tolerance', 'length-tolerance', 'colour-tolerance', 'sample', 'delivery', 'valid-until'],
  ...['changes', 'cancelling', 'fibre', 'care', 'tax-name', 'remarks', 'private-note', 'hours-base', 'work-kind'],
] as const

export const stageFields = (stage: QuoteStage) => ({ hours: `hours-${stage}`, rate: `rate-${stage}` }) as const
export const materialFields = (at: number) =>
  ({ name: `material-${at}`, grams: `grams-${at}`, price: `price-${at}`, unit: `unit-${at}` }) as const

/** Every field of a quote, in the order of its form; none has a capital letter. */
export const QUOTE_FIELDS: readonly string[] = [
  ...QUOTE_WORDS,
  ...Object.keys(QUOTE_CHOICES),
  ...QUOTE_NUMBERS,
  ...QUOTE_STAGES.flatMap((stage) => Object.values(stageFields(stage))),
  ...MATERIALS.flatMap((at) => Object.values(materialFields(at))),
]

/** A quote as it was typed: every field of `QUOTE_FIELDS`; a missing one is empty. */
export type QuoteEntered = Readonly<Record<string, string>>

/**
 * A quote that nobody has begun. The waste is a guess of ours, no source: it is for knots, ends and the last of a skein,
 * beside the loom waste, which a plan counts already.
 */
export const BLANK_QUOTE: QuoteEntered = {
  ...Object.fromEntries(QUOTE_FIELDS.map((field) => [field, ''])),
  ...Object.fromEntries(Object.entries(QUOTE_CHOICES).map(([field, [usual]]) => [field, usual])),
  ...Object.fromEntries(MATERIALS.map((at) => [materialFields(at).unit, 'kg'])),
  ...{ currency: 'EUR', waste: '10' },
}

/** What a maker keeps for every quote: who they are, what they ask an hour, and text of their own. */
export const TERM_FIELDS = [
  ...['maker', 'maker-address', 'currency', 'rate', 'overhead-by', 'overhead', 'profit-by', 'profit', 'waste'],
  ...['tax-name', 'tax', 'tax-on-shipping', 'payments', 'width-tolerance', 'length-tolerance', 'colour-tolerance'],
  ...['sample', 'delivery', 'changes', 'cancelling', 'care'],
  ...QUOTE_STAGES.map((stage) => stageFields(stage).rate),
] as const
