import { allocate, mulDiv, type Exact } from './exact.ts'
import type { QuoteStage } from './quote-entry.ts'
import type { PriceUnit } from './quote-entry.ts'
import type { QuoteWants, WantedMaterial } from './read-quote.ts'

/** How many hours the work takes: the low end of the range, what is likely, the high end. */
export const CASES = ['low', 'likely', 'high'] as const
export type Case = (typeof CASES)[number]

export interface StageAmount {
  readonly stage: QuoteStage
  /** Thousandths of an hour. */
  readonly hours: bigint
  readonly rate: bigint
  readonly amount: bigint
}

export interface MaterialAmount extends WantedMaterial {
  readonly amount: bigint
}

/** One case, worked out; every amount is a whole number of minor units, and each sum is the sum of what stands above it. */
export interface CaseFigures {
  readonly stages: readonly StageAmount[]
  readonly hours: bigint
  readonly labour: bigint
  readonly overhead: bigint
  /** Labour, materials and overhead. */
  readonly cost: bigint
  readonly profit: bigint
  /** Cost and profit: the price that this case asks for. */
  readonly net: bigint
}

/** From a price to what is paid. */
export interface Charge {
  readonly net: bigint
  readonly discount: bigint
  /** Net less the discount. */
  readonly work: bigint
  readonly shipping: bigint
  /** What the tax is on. */
  readonly taxed: bigint
  readonly tax: bigint
  readonly total: bigint
}

export interface QuoteFigures {
  readonly materials: readonly MaterialAmount[]
  readonly materialCost: bigint
  readonly cases: Readonly<Record<Case, CaseFigures>>
  /** What each case would have to be charged. */
  readonly charges: Readonly<Record<Case, Charge>>
  /** With the price that the maker set, else with that of the likely case. */
  readonly asked: Charge
  readonly isPriceSet: boolean
  /** What the asked price leaves for an hour, after materials and overhead; null without hours. */
  readonly wages: Readonly<Record<Case, bigint | null>>
  readonly payments: readonly { readonly percent: Exact; readonly when: string; readonly amount: bigint }[]
}

const THOUSAND = 1000n

/**
 * Works a quote out. Each amount is rounded once, half to even, where it first arises; sums are sums of rounded amounts, so
 * that what is printed adds up. In the low and the high case the hours of the stages keep their shares of the whole; a
 * discount never takes more than the price.
 * @param wants as `readQuote` gives them
 * @example 7.35 h at 28.50 an hour and nothing else: labour 20948n, half a cent to the even one
 */
export function workOutQuote(wants: QuoteWants): QuoteFigures {
  const materials = wants.materials.map((one) => ({ ...one, amount: materialAmount(one, wants.waste) }))
  const materialCost = sum(materials.map(({ amount }) => amount))
  const cases = byCase((each) => caseFigures(wants, hoursOf(wants, each), materialCost))
  const net = wants.price ?? cases.likely.net
  const asked = charge(wants, net)
  return {
    ...{ materials, materialCost, cases, asked, isPriceSet: wants.price !== null },
    charges: byCase((each) => charge(wants, cases[each].net)),
    wages: byCase((each) => wageOf(asked.work - materialCost - cases[each].overhead, cases[each].hours)),
    payments: sharePayments(wants, asked.total),
  }
}

/** What is left for an hour of work, half to even; null where no hour is worked. */
export const wageOf = (left: bigint, hours: bigint): bigint | null =>
  hours === 0n ? null : mulDiv(left, THOUSAND, hours)

function hoursOf({ stages, lowHours, highHours }: QuoteWants, which: Case): bigint[] {
  const likely = stages.map(({ hours }) => hours)
  const all = sum(likely)
  const range = { low: lowHours, likely: null, high: highHours }[which]
  const isUsable = range !== null && all > 0n && (which === 'low' ? range <= all : range >= all)
  return isUsable ? allocate(range, likely) : likely
}

function caseFigures(wants: QuoteWants, hours: readonly bigint[], materialCost: bigint): CaseFigures {
  const stages = wants.stages.map(({ stage, rate }, at) => {
    const own = hours[at] ?? 0n
    return { stage, hours: own, rate, amount: mulDiv(rate, own, THOUSAND) }
  })
  const all = sum(stages.map((stage) => stage.hours))
  const labour = sum(stages.map(({ amount }) => amount))
  const { overhead: by } = wants
  const overhead =
    by === null ? 0n : by.by === 'hour' ? mulDiv(by.minor, all, THOUSAND) : percentOf(labour + materialCost, by.share)
  const cost = labour + materialCost + overhead
  const profit = profitOf(cost, wants.profit)
  return { stages, hours: all, labour, overhead, cost, profit, net: cost + profit }
}

/** A mark-up is a share of the cost; a margin is a share of the price, so of the cost it is m / (1 - m). */
export function profitOf(cost: bigint, profit: QuoteWants['profit']): bigint {
  if (profit === null) return 0n
  const { n, d } = profit.share
  return profit.by === 'markup' ? mulDiv(cost, n, 100n * d) : mulDiv(cost, n, 100n * d - n)
}

function charge(wants: QuoteWants, net: bigint): Charge {
  const { discount: by, shipping } = wants
  const wanted = by === null ? 0n : by.by === 'amount' ? by.minor : percentOf(net, by.share)
  const discount = wanted > net ? net : wanted
  const work = net - discount
  const taxed = wants.taxOnShipping ? work + shipping : work
  const tax = percentOf(taxed, wants.tax)
  return { net, discount, work, shipping, taxed, tax, total: work + shipping + tax }
}

const GRAMS: Readonly<Record<Exclude<PriceUnit, 'whole'>, bigint>> = { kg: 1000n, '100g': 100n, '50g': 50n }

/** Grams and what is wasted on top of them, at the price; rounded once. */
function materialAmount({ grams, price, unit }: WantedMaterial, waste: Exact): bigint {
  if (unit === 'whole' || grams === null) return price
  return mulDiv(price * grams.n, 100n * waste.d + waste.n, grams.d * 100n * waste.d * GRAMS[unit])
}

function sharePayments({ payments }: QuoteWants, total: bigint): QuoteFigures['payments'] {
  if (payments.length === 0) return []
  const common = payments.reduce((all, { percent }) => all * percent.d, 1n)
  const amounts = allocate(
    total,
    payments.map(({ percent }) => (percent.n * common) / percent.d),
  )
  return payments.map((payment, at) => ({ ...payment, amount: amounts[at] ?? 0n }))
}

const percentOf = (minor: bigint, share: Exact): bigint => mulDiv(minor, share.n, 100n * share.d)
const sum = (amounts: readonly bigint[]): bigint => amounts.reduce((all, one) => all + one, 0n)
const byCase = <T>(work: (each: Case) => T): Record<Case, T> => ({
  low: work('low'),
  likely: work('likely'),
  high: work('high'),
})
