import { minorDigits } from './currency.ts'
import { readExact, type Exact } from './exact.ts'
import { readMoney } from './money.ts'
import {
  MATERIALS,
  materialFields,
  PRICE_UNITS,
  QUOTE_CHOICES,
  QUOTE_STAGES,
  stageFields,
  type PriceUnit,
  type QuoteChoice,
  type QuoteEntered,
  type QuoteStage,
} from './quote-entry.ts'

export interface WantedStage {
  readonly stage: QuoteStage
  /** Thousandths of an hour. */
  readonly hours: bigint
  /** For an hour, in minor units. */
  readonly rate: bigint
  readonly rateField: string
}

export interface WantedMaterial {
  readonly at: number
  readonly name: string
  readonly grams: Exact | null
  readonly price: bigint
  readonly unit: PriceUnit
}

export interface WantedPayment {
  readonly percent: Exact
  readonly when: string
}

type Percent = { readonly by: 'percent'; readonly share: Exact }
type Amount = { readonly by: 'amount'; readonly minor: bigint }

/** A quote as it was typed, in exact numbers; amounts in minor units of `currency`. */
export interface QuoteWants {
  readonly currency: string
  readonly stages: readonly WantedStage[]
  /** All hours together in the low and the high case, in thousandths; null where no range is said. */
  readonly lowHours: bigint | null
  readonly highHours: bigint | null
  readonly materials: readonly WantedMaterial[]
  /** Percent on top of the grams. */
  readonly waste: Exact
  readonly overhead: { readonly by: 'hour'; readonly minor: bigint } | Percent | null
  readonly profit: { readonly by: 'markup' | 'margin'; readonly share: Exact } | null
  readonly price: bigint | null
  readonly discount: Percent | Amount | null
  readonly shipping: bigint
  readonly tax: Exact
  readonly taxOnShipping: boolean
  readonly payments: readonly WantedPayment[]
}

export interface ReadQuote {
  /** What can be used; a field with a problem counts as empty. */
  readonly wants: QuoteWants
  /** A sentence beside each field that cannot be used. */
  readonly problems: Readonly<Record<string, string>>
}

const ZERO: Exact = { n: 0n, d: 1n }
const AMOUNT = 'Please type an amount, such as 28.50.'

/**
 * Reads the numbers of a quote as they were typed; browser and server read it alike.
 * @param entered every field of `QUOTE_FIELDS`; a missing one is empty
 * @returns what can be used, and a sentence for each field that cannot; nothing is refused as a whole
 * @example readQuote({ ...BLANK_QUOTE, 'hours-weave': '7.35', rate: '28.50' }).wants.stages // weave, 7350n, 2850n
 * @example readQuote({ ...BLANK_QUOTE, rate: 'much' }).problems.rate // 'Please type an amount …'
 */
export function readQuote(entered: QuoteEntered): ReadQuote {
  const problems: Record<string, string> = {}
  const typed = (name: string) => (entered[name] ?? '').trim()
  const currency = readCurrency(typed('currency'), problems)
  const money = (name: string): bigint | null => {
    if (typed(name) === '') return null
    const minor = readMoney(typed(name), currency)
    if (minor === undefined) problems[name] = amountProblem(typed(name), currency)
    return minor ?? null
  }
  const exact = (name: string, figures: number, message: string): Exact | null => {
    if (typed(name) === '') return null
    const read = readExact(typed(name), figures)
    if (!read) problems[name] = message
    return read ?? null
  }
  const percent = (name: string, most = 1000n): Exact | null => {
    const read = exact(name, 4, 'Please type percent as a number, such as 12.5.')
    if (read === null || read.n <= most * read.d) return read
    problems[name] = `Please look at this again: at most ${most} %.`
    return null
  }
  const hours = (name: string): bigint | null => {
    const read = exact(name, 3, 'Please type hours as a decimal with three figures at most, such as 7.35.')
    if (read === null) return null
    const thousandths = (read.n * 1000n) / read.d
    if (thousandths > 100_000_000n) problems[name] = 'Please look at this again: at most 100 000 hours.'
    return problems[name] === undefined ? thousandths : null
  }
  const chosen = <C extends QuoteChoice>(name: C): (typeof QUOTE_CHOICES)[C][number] => {
    const options: readonly string[] = QUOTE_CHOICES[name]
    if (typed(name) !== '' && !options.includes(typed(name))) problems[name] = 'Please choose from the list.'
    return (options.includes(typed(name)) ? typed(name) : options[0]) as (typeof QUOTE_CHOICES)[C][number]
  }
  const usualRate = money('rate')
  const stages = QUOTE_STAGES.flatMap((stage): WantedStage[] => {
    const fields = stageFields(stage)
    const [own, worked] = [money(fields.rate), hours(fields.hours)]
    if (worked === null || worked === 0n) return []
    const rate = own ?? usualRate
    if (rate === null)
      problems.rate ??= 'What do you ask for an hour? It stands for every stage without a rate of its own.'
    return [{ stage, hours: worked, rate: rate ?? 0n, rateField: own === null ? 'rate' : fields.rate }]
  })
  const [lowHours, highHours] = [hours('hours-low'), hours('hours-high')]
  lookOverHours(stages, lowHours, highHours, problems)
  const base = { currency, stages, lowHours, highHours, taxOnShipping: chosen('tax-on-shipping') === 'yes' }
  chosen('binding')
  chosen('shows')
  const overheadBy = chosen('overhead-by')
  const overheadMinor = overheadBy === 'hour' ? needed('overhead', money, problems) : null
  const overheadShare = overheadBy === 'percent' ? needed('overhead', percent, problems) : null
  const profitBy = chosen('profit-by')
  const profitShare = profitBy === 'none' ? null : needed('profit', percent, problems)
  if (profitBy === 'margin' && profitShare && profitShare.n >= 100n * profitShare.d)
    problems.profit = 'A margin is a share of the price, so it is below 100 %. Of the cost it is a mark-up.'
  const discountBy = chosen('discount-by')
  const discountShare = discountBy === 'percent' ? needed('discount', (name) => percent(name, 100n), problems) : null
  const discountMinor = discountBy === 'amount' ? needed('discount', money, problems) : null
  return {
    wants: {
      ...base,
      materials: MATERIALS.flatMap((at) => readMaterial(at, { typed, money, exact }, problems)),
      waste: percent('waste') ?? ZERO,
      overhead:
        overheadMinor !== null
          ? { by: 'hour', minor: overheadMinor }
          : overheadShare && { by: 'percent', share: overheadShare },
      profit:
        profitBy === 'none' || profitShare === null || problems.profit !== undefined
          ? null
          : { by: profitBy, share: profitShare },
      price: money('set-price'),
      discount:
        discountMinor !== null
          ? { by: 'amount', minor: discountMinor }
          : discountShare && { by: 'percent', share: discountShare },
      shipping: money('shipping') ?? 0n,
      tax: percent('tax', 100n) ?? ZERO,
      payments: readPayments(typed('payments'), problems),
    },
    problems,
  }
}

/** An unknown currency counts as two figures behind the point, so that the rest of the form can still be looked at. */
function readCurrency(code: string, problems: Record<string, string>): string {
  if (minorDigits(code) !== undefined) return code
  problems.currency = 'Which currency? Three capital letters of ISO 4217, such as EUR, DKK or USD.'
  return 'EUR'
}

function amountProblem(text: string, currency: string): string {
  const digits = minorDigits(currency) ?? 2
  const isTooFine = readExact(text.replace(/\s/g, ''), 12) !== undefined
  return isTooFine ? `${currency} has ${digits === 0 ? 'no' : digits} figures behind the point.` : AMOUNT
}

function needed<T>(name: string, read: (name: string) => T | null, problems: Record<string, string>): T | null {
  const value = read(name)
  if (value === null) problems[name] ??= 'Please say how much, or choose “none”.'
  return value
}

function lookOverHours(
  stages: readonly WantedStage[],
  low: bigint | null,
  high: bigint | null,
  problems: Record<string, string>,
): void {
  const likely = stages.reduce((sum, { hours }) => sum + hours, 0n)
  if (likely === 0n) return
  if (low !== null && low > likely) problems['hours-low'] ??= 'This is more than the stages come to together.'
  if (high !== null && high < likely) problems['hours-high'] ??= 'This is less than the stages come to together.'
}

interface Readers {
  readonly typed: (name: string) => string
  readonly money: (name: string) => bigint | null
  readonly exact: (name: string, figures: number, message: string) => Exact | null
}

function readMaterial(
  at: number,
  { typed, money, exact }: Readers,
  problems: Record<string, string>,
): WantedMaterial[] {
  const fields = materialFields(at)
  const name = typed(fields.name)
  const grams = exact(fields.grams, 3, 'Please type grams, such as 97.4.')
  const price = money(fields.price)
  const unit = PRICE_UNITS.find((each) => each === typed(fields.unit)) ?? 'kg'
  if (typed(fields.unit) !== '' && unit !== typed(fields.unit)) problems[fields.unit] = 'Please choose from the list.'
  if (name === '' && typed(fields.grams) === '' && typed(fields.price) === '') return []
  if (name === '') problems[fields.name] ??= 'Please name the material.'
  if (price === null) problems[fields.price] ??= 'What does it cost to buy it again? 0 where it costs nothing.'
  if (grams === null && unit !== 'whole')
    problems[fields.grams] ??= 'How many grams? Or let the price be for all of it.'
  return [{ at, name, grams, price: price ?? 0n, unit }]
}

function readPayments(text: string, problems: Record<string, string>): WantedPayment[] {
  const lines = text.split('\n').filter((each) => each.trim() !== '')
  const payments: WantedPayment[] = []
  for (const written of lines) {
    const [, share = '', when = ''] = /^\s*([\d.,]+)\s*%?\s+(\S.*?)\s*$/.exec(written) ?? []
    const percent = readExact(share, 4)
    if (!percent || when === '') {
      problems.payments = 'One a line: the percent, and when it is due, such as “50 with the order”.'
      return []
    }
    payments.push({ percent, when })
  }
  if (payments.length > 12) problems.payments = 'At most twelve payments.'
  else if (payments.length > 0 && !isWhole(payments)) problems.payments = 'The parts must make 100 % together.'
  return problems.payments === undefined ? payments : []
}

const COMMON = 10_000n
const isWhole = (payments: readonly WantedPayment[]): boolean =>
  payments.reduce((sum, { percent }) => sum + (percent.n * COMMON) / percent.d, 0n) === 100n * COMMON
