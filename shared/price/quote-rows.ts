import { shown, type Shown, type ShownRow } from '../plan/say.ts'
import { STAGE_LABELS } from '../work/stage.ts'
import { MATERIALS, materialFields, type QuoteStage, stageFields } from './quote-entry.ts'
import type { QuoteWants } from './read-quote.ts'
import { sayExact, sayHours } from './say-quote.ts'
import { CASES, type Case, type QuoteFigures } from './work-out-quote.ts'

/** How pages name the stages of a quote. */
export const quoteStageLabel = (stage: QuoteStage): string =>
  stage === 'weave' ? 'Weave, unweaving with it' : STAGE_LABELS[stage]

export const CASE_LABELS: Readonly<Record<Case, string>> = { low: 'Low', likely: 'Likely', high: 'High' }

/** What a row is told from: the quote as read, its figures, and how an amount is said. */
export interface Around {
  readonly wants: QuoteWants
  readonly figures: QuoteFigures
  readonly say: (minor: bigint) => string
}

export function hourRows({ wants, figures, say }: Around): ShownRow[] {
  const { cases } = figures
  const rows = cases.likely.stages.map(({ stage, hours, rate, amount }, at): ShownRow => {
    const rateField = wants.stages[at]?.rateField ?? 'rate'
    const other = (which: Case) => cases[which].stages[at] ?? { hours: 0n, amount: 0n }
    const cell = (which: Case) =>
      shown(
        say(other(which).amount),
        `${sayHours(other(which).hours)} × ${say(rate)} an hour = ${say(other(which).amount)}, a half to the even one`,
      )
    return {
      ...{ key: stage, head: quoteStageLabel(stage), hex: '' },
      cells: [
        shown(sayHours(hours), '', stageFields(stage).hours),
        shown(say(rate), rateField === 'rate' ? 'The rate for every stage without one of its own.' : '', rateField),
        cell('low'),
        shown(say(amount), `${sayHours(hours)} × ${say(rate)} an hour = ${say(amount)}, a half to the even one`),
        cell('high'),
      ],
    }
  })
  if (rows.length === 0) return []
  const total = (which: Case) =>
    shown(
      say(cases[which].labour),
      `The ${rows.length === 1 ? 'line' : 'lines'} above, over ${sayHours(cases[which].hours)}.`,
    )
  return [
    ...rows,
    {
      ...{ key: 'total', head: 'Labour', hex: '' },
      cells: [shown(sayHours(cases.likely.hours)), shown(''), total('low'), total('likely'), total('high')],
    },
  ]
}

const UNIT_WORDS = { kg: 'a kilogram', '100g': '100 g', '50g': '50 g', whole: 'all of it' } as const

export function materialRows({ wants, figures, say }: Around): ShownRow[] {
  const rows = figures.materials.map(({ at, name, grams, price, unit, amount }): ShownRow => {
    const fields = materialFields(at)
    const isWhole = unit === 'whole' || grams === null
    const how = isWhole
      ? 'The price is for all of it; no waste is added.'
      : `${sayExact(grams)} g × (1 + ${sayExact(wants.waste)} % waste) × ${say(price)} for ${UNIT_WORDS[unit]} = ${say(amount)}`
    return {
      ...{ key: String(at), head: name || `Material ${at} of ${MATERIALS.length}`, hex: '' },
      cells: [
        shown(grams === null ? 'not said' : `${sayExact(grams)} g`, '', fields.grams),
        shown(`${say(price)} for ${UNIT_WORDS[unit]}`, '', fields.price),
        shown(say(amount), how, fields.price),
      ],
    }
  })
  if (rows.length === 0) return []
  const total = shown(say(figures.materialCost), 'The lines above, each rounded by itself.')
  return [...rows, { key: 'total', head: 'Materials', hex: '', cells: [shown(''), shown(''), total] }]
}

export function buildRows({ wants, figures, say }: Around): ShownRow[] {
  const { cases, materialCost } = figures
  const row = (key: string, head: string, cell: (which: Case) => Shown): ShownRow => ({
    ...{ key, head, hex: '' },
    cells: CASES.map(cell),
  })
  return [
    row('hours', 'Hours', (each) => shown(sayHours(cases[each].hours), '', each === 'likely' ? '' : `hours-${each}`)),
    row('labour', 'Labour', (each) => shown(say(cases[each].labour), 'Hours by stage, each at its rate.', 'rate')),
    row('materials', 'Materials', () => shown(say(materialCost), 'Alike in every case.', 'material-1')),
    row('overhead', 'Overhead', (each) =>
      shown(say(cases[each].overhead), overheadHow({ wants, figures, say }, each), 'overhead'),
    ),
    row('cost', 'Cost', (each) =>
      shown(
        say(cases[each].cost),
        `${say(cases[each].labour)} labour + ${say(materialCost)} materials + ${say(cases[each].overhead)} overhead`,
      ),
    ),
    row('profit', 'Profit', (each) =>
      shown(say(cases[each].profit), profitHow({ wants, figures, say }, each), 'profit'),
    ),
    row('net', 'Price of the work', (each) =>
      shown(say(cases[each].net), `${say(cases[each].cost)} cost + ${say(cases[each].profit)} profit`),
    ),
  ]
}

function overheadHow({ wants: { overhead }, figures, say }: Around, which: Case): string {
  const { labour, hours } = figures.cases[which]
  if (overhead === null) return 'No overhead is said.'
  if (overhead.by === 'hour') return `${sayHours(hours)} × ${say(overhead.minor)} an hour`
  return `${sayExact(overhead.share)} % of ${say(labour + figures.materialCost)}, labour and materials`
}

function profitHow({ wants: { profit }, figures, say }: Around, which: Case): string {
  const { cost } = figures.cases[which]
  if (profit === null) return 'No profit is said; the hours are paid at their rate.'
  const share = sayExact(profit.share)
  if (profit.by === 'markup') return `Mark-up: ${share} % of ${say(cost)}, the cost`
  return `Margin: ${share} % of the price, so ${say(cost)} × ${share} ÷ (100 − ${share})`
}

export function askedRows({ wants, figures, say }: Around): ShownRow[] {
  const { charges, asked, isPriceSet } = figures
  const all = [charges.low, charges.likely, charges.high, asked]
  const row = (key: string, head: string, cell: (charge: QuoteFigures['asked']) => Shown): ShownRow => ({
    ...{ key, head, hex: '' },
    cells: all.map(cell),
  })
  const priceHow = (charge: QuoteFigures['asked']) =>
    charge !== asked
      ? 'As worked out above.'
      : isPriceSet
        ? 'As you set it.'
        : 'Of the likely case, for you have set none.'
  const { discount } = wants
  const taxName = `${sayExact(wants.tax)} %`
  return [
    row('net', 'Price of the work', (charge) => shown(say(charge.net), priceHow(charge), 'set-price')),
    row('discount', 'Discount', (charge) =>
      shown(
        say(-charge.discount),
        discount === null
          ? 'None.'
          : discount.by === 'amount'
            ? 'As typed, and never more than the price.'
            : `${sayExact(discount.share)} % of ${say(charge.net)}`,
        'discount',
      ),
    ),
    row('work', 'After the discount', (charge) => shown(say(charge.work))),
    row('shipping', 'Shipping', (charge) => shown(say(charge.shipping), '', 'shipping')),
    row('tax', 'Tax', (charge) =>
      shown(
        say(charge.tax),
        `${taxName} of ${say(charge.taxed)}, ${wants.taxOnShipping ? 'shipping with it' : 'shipping not with it'}`,
        'tax',
      ),
    ),
    row('total', 'To pay', (charge) =>
      shown(say(charge.total), `${say(charge.work)} + ${say(charge.shipping)} shipping + ${say(charge.tax)} tax`),
    ),
  ]
}

export function wageHow({ figures, say }: Around, which: Case): string {
  const { asked, materialCost, cases } = figures
  return `(${say(asked.work)} after the discount − ${say(materialCost)} materials − ${say(cases[which].overhead)} overhead) ÷ ${sayHours(cases[which].hours)}; profit is in it, tax and shipping are not`
}

export function wageRows(around: Around): ShownRow[] {
  const { figures, say } = around
  return CASES.flatMap((which) => {
    const wage = figures.wages[which]
    if (wage === null) return []
    return [
      {
        ...{ key: which, head: CASE_LABELS[which], hex: '' },
        cells: [
          shown(sayHours(figures.cases[which].hours)),
          shown(`${say(wage)} an hour`, wageHow(around, which), 'set-price'),
        ],
      },
    ]
  })
}
