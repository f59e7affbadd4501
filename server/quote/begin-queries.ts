import { moneyText, readMoney } from '../../shared/price/money.ts'
import { hoursText } from '../../shared/price/say-quote.ts'
import {
  BLANK_QUOTE,
  MATERIALS,
  materialFields,
  QUOTE_STAGES,
  stageFields,
  type QuoteEntered,
} from '../../shared/price/quote-entry.ts'
import { dayInWords } from '../../shared/work/time-words.ts'
import type { Db } from '../db/open.ts'
import type { Revision } from '../draft/revision-queries.ts'
import type { Forecast } from '../forecast/work-out-queries.ts'
import { findOriginal } from '../original/queries.ts'
import type { Piece } from '../piece/queries.ts'
import { workedPlan } from '../plan/worked-queries.ts'
import { priceText } from '../yarn/price.ts'
import { findLot, type ShelfLot } from '../yarn/queries.ts'
import { findTerms } from './queries.ts'

interface Begun {
  readonly piece: Piece | undefined
  readonly revision: Revision | undefined
  readonly forecast: Forecast | undefined
  readonly today: string
}

/** What stands in the form of a new quote: the maker's terms, the hours of the forecast, the yarns of the plan. */
export function beginQuote(db: Db, { piece, revision, forecast, today }: Begun): QuoteEntered {
  const terms = findTerms(db).entered
  const original = piece?.originalId === undefined ? undefined : findOriginal(db, piece.originalId)
  const kept = Object.fromEntries(Object.entries(terms).filter(([, value]) => value !== ''))
  const begun: QuoteEntered = {
    ...BLANK_QUOTE,
    ...kept,
    title: piece?.name ?? revision?.draft.title ?? '',
    client: piece?.forWhom ?? '',
    'of-original': original
      ? [original.name, original.holder, original.inventoryNumber].filter(Boolean).join(', ')
      : '',
    size: sizeOf(db, piece),
  }
  const priced = { ...begun, ...(piece ? materialsOf(db, piece.id, begun.currency ?? 'EUR') : {}) }
  return forecast ? withForecast(priced, forecast, today) : priced
}

/** Puts the hours of a forecast in the place of those that stand there. */
export function withForecast(entered: QuoteEntered, { rows, total, base }: Forecast, today: string): QuoteEntered {
  const hours = (minutes: number, round: (value: number) => number) =>
    hoursText(BigInt(round((minutes / 60) * 100)) * 10n)
  const stages = QUOTE_STAGES.map((stage) => {
    const row = rows.find((each) => each.stage === stage)
    return [stageFields(stage).hours, row && row.range.likely > 0 ? hours(row.range.likely, Math.round) : ''] as const
  })
  const guessed = rows.filter(({ isGuess }) => isGuess).map(({ label }) => label.toLowerCase())
  return {
    ...entered,
    ...Object.fromEntries(stages),
    // Rounded outwards, so that the range never lies within the stages' own sum.
    'hours-low': hours(total.low, Math.floor),
    'hours-high': hours(total.high, Math.ceil),
    'hours-base': `Forecast of ${dayInWords(today)}, resting on ${base}${guessed.length > 0 ? ` Guessed: ${guessed.join('; ')}.` : ''}`,
  }
}

function sizeOf(db: Db, piece: Piece | undefined): string {
  const wovenMm = piece && workedPlan(db, piece.id)?.figures.wovenMm
  return wovenMm ? `${Number((wovenMm / 10).toFixed(1))} cm long, without fringe` : ''
}

/** The yarns that the plan of a piece needs, with what a lot of the viewer's own cost. */
function materialsOf(db: Db, pieceId: number, currency: string): Record<string, string> {
  const needs = workedPlan(db, pieceId)?.figures.needs ?? []
  const filled = needs.slice(0, MATERIALS.length).flatMap(({ yarn, massG }, index) => {
    const fields = materialFields(MATERIALS[index] ?? 1)
    const [, lotId] = /^lot-(\d+)$/.exec(yarn.value) ?? []
    const lot = lotId === undefined ? undefined : findLot(db, Number(lotId))
    const price = lot && lotPrice(lot, currency)
    return [
      [fields.name, yarn.label || 'yarn'],
      [fields.grams, massG === null ? '' : massG.toFixed(1)],
      [fields.price, price?.text ?? ''],
      [fields.unit, price?.unit ?? 'kg'],
    ]
  })
  return Object.fromEntries(filled) as Record<string, string>
}

/** What a lot cost, where it is priced by mass and in this currency; its text is read anew, for tables of digits differ. */
export function lotPrice(
  { price }: ShelfLot,
  currency: string,
): { text: string; minor: bigint; unit: 'kg' | '100g' | '50g' } | undefined {
  if (!price || price.currency !== currency || price.for === 'whole') return undefined
  const minor = readMoney(priceText(price), currency)
  return minor === undefined ? undefined : { minor, unit: price.for, text: moneyText(minor, currency) }
}
