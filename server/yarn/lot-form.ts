import { z } from 'zod'
import { readLab } from '../../shared/yarn/lot-colour.ts'
import { choice, day, line, lines, parseForm, requiredLine, type Parsed } from '../form.ts'
import { note } from '../markdown.ts'
import { minorOf, priceText, type Price } from './price.ts'

export const PRICE_FOR = {
  '': 'not said',
  whole: 'the whole lot',
  '50g': '50 g',
  '100g': '100 g',
  kg: '1 kg',
} as const

const lotSchema = z.object({
  colourName: requiredLine('Please name the colour, such as madder red or undyed.', 120),
  colourHex: line(7)
    .transform((text) => text.toLowerCase().replace(/^(?=[0-9a-f]{6}$)/, '#'))
    .refine((text) => text === '' || /^#[0-9a-f]{6}$/.test(text), 'Write # and six of 0-9 and a-f, such as #9c3b2e.'),
  colourLab: line(40).refine(
    (text) => text === '' || readLab(text).ok,
    'Write L, a and b with blanks between, such as 38.2 41.5 24; L from 0 to 100.',
  ),
  dye: line(),
  mordant: line(),
  recipe: lines(),
  dyedBy: line(200),
  dyedOn: day(),
  lotNumber: line(120),
  supplier: line(),
  price: line(20),
  priceCurrency: line(3).transform((text) => text.toUpperCase()),
  priceFor: choice(Object.keys(PRICE_FOR) as (keyof typeof PRICE_FOR)[], 'Please choose what the price is for.'),
  notes: note(),
})

type Typed = z.output<typeof lotSchema>
export type LotEntered = Record<keyof Typed, string>
export interface LotForm extends Omit<Typed, 'price' | 'priceCurrency' | 'priceFor'> {
  readonly price: Price | undefined
}

export const LOT_FIELDS = Object.keys(lotSchema.shape) as (keyof LotEntered)[]

export function readLotForm(body: unknown, today: string): Parsed<LotForm, LotEntered> {
  const form = parseForm(body, lotSchema)
  if (!form.ok) return form
  const { price, priceCurrency, priceFor, ...rest } = form.value
  const problems: Partial<LotEntered> = {}
  if ((rest.dyedOn ?? '') > today) problems.dyedOn = 'This day has not come yet; enter it when it is true.'
  const read = price === '' ? undefined : minorOf(price, priceCurrency)
  if (price !== '') {
    if (!read?.ok) problems[read?.field ?? 'price'] = read?.message ?? ''
    else if (priceFor === '') problems.priceFor = 'What is the price for: the whole lot, or so many grams?'
  }
  if (Object.keys(problems).length > 0) {
    const entered = { ...form.value, dyedOn: rest.dyedOn ?? '' }
    return { ok: false, entered, problems }
  }
  const paid = read?.ok && priceFor !== '' ? { minor: read.minor, currency: priceCurrency, for: priceFor } : undefined
  return { ok: true, value: { ...rest, price: paid } }
}

/** A lot as it would be typed. */
export function typedLot(lot: LotForm): LotEntered {
  const { price, dyedOn = '', colourName, colourHex, colourLab, dye, mordant, recipe, dyedBy, lotNumber } = lot
  return {
    ...{ colourName, colourHex, colourLab, dye, mordant, recipe, dyedBy, dyedOn, lotNumber },
    ...{ supplier: lot.supplier, notes: lot.notes, price: price ? priceText(price) : '' },
    ...{ priceCurrency: price?.currency ?? '', priceFor: price?.for ?? '' },
  }
}
