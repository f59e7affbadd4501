import { mulDiv } from '../../shared/price/exact.ts'
import { quoteSheet } from '../../shared/price/quote-sheet.ts'
import { wageOf } from '../../shared/price/work-out-quote.ts'
import { QUOTE_STAGES, type QuoteEntered, type QuoteStage } from '../../shared/price/quote-entry.ts'
import type { Db } from '../db/open.ts'
import { minutesByStage } from '../forecast/own-piece-queries.ts'
import { findPiece } from '../piece/queries.ts'
import { listSittings } from '../sitting/queries.ts'
import { listPieceLots } from '../yarn/ledger-queries.ts'
import { findLot } from '../yarn/queries.ts'
import { lotLabel } from '../yarn/swatch.ts'
import { lotPrice } from './begin-queries.ts'
import { listSent, type Quote } from './queries.ts'

/** What a quote said, and what it came to; hours in thousandths, amounts in minor units. */
export interface QuotedAndActual {
  readonly currency: string
  readonly stages: readonly { readonly stage: QuoteStage; readonly quoted: bigint; readonly actual: bigint }[]
  readonly quotedHours: bigint
  readonly actualHours: bigint
  readonly quotedMaterials: bigint
  readonly actualMaterials: bigint
  /** Lots that were used and have no price by mass in this currency: not in the sum. */
  readonly unpriced: readonly string[]
  /** Grams that the ledgers say were used, by lot. */
  readonly lots: readonly { readonly name: string; readonly usedMg: number; readonly amount: bigint | null }[]
  /** Of the work after the discount, without shipping and tax. */
  readonly paid: bigint
  readonly overhead: bigint
  readonly quotedWage: bigint | null
  readonly realWage: bigint | null
}

const GRAMS = { kg: 1000n, '100g': 100n, '50g': 50n } as const

/** Of a quote that was accepted and whose piece is finished; undefined for any other. */
export function findQuotedAndActual(db: Db, quote: Quote): QuotedAndActual | undefined {
  const piece = quote.pieceId === undefined ? undefined : findPiece(db, quote.pieceId)
  if (quote.state !== 'accepted' || piece?.status.status !== 'finished') return undefined
  const [accepted] = listSent(db, quote.id)
  return accepted && holdAgainst(db, accepted.entered, piece.id)
}

function holdAgainst(db: Db, entered: QuoteEntered, pieceId: number): QuotedAndActual {
  const { figures, wants } = quoteSheet(entered)
  const { currency } = wants
  const worked = minutesByStage(listSittings(db, pieceId))
  const quoted = new Map(figures.cases.likely.stages.map(({ stage, hours }) => [stage, hours]))
  const stages = QUOTE_STAGES.flatMap((stage) => {
    // To a hundredth of an hour, as hours are typed.
    const actual = BigInt(Math.round(((worked[stage] ?? 0) * 100) / 60)) * 10n
    const said = quoted.get(stage) ?? 0n
    return said === 0n && actual === 0n ? [] : [{ stage, quoted: said, actual }]
  })
  const actualHours = stages.reduce((sum, { actual }) => sum + actual, 0n)
  const lots = listPieceLots(db, pieceId).flatMap(({ lotId, usedMg }) => {
    const lot = findLot(db, lotId)
    if (!lot || usedMg <= 0) return []
    const price = lotPrice(lot, currency)
    const amount = price ? mulDiv(price.minor, BigInt(usedMg), 1000n * GRAMS[price.unit]) : null
    return [{ name: lotLabel(lot), usedMg, amount }]
  })
  const actualMaterials = lots.reduce((sum, { amount }) => sum + (amount ?? 0n), 0n)
  const overhead =
    wants.overhead?.by === 'hour' ? mulDiv(wants.overhead.minor, actualHours, 1000n) : figures.cases.likely.overhead
  const paid = figures.asked.work
  // Where no ledger says what was used, the materials are those of the quote.
  const materials = lots.length === 0 ? figures.materialCost : actualMaterials
  return {
    ...{ currency, stages, actualHours, lots, paid, overhead, actualMaterials: materials },
    quotedHours: figures.cases.likely.hours,
    quotedMaterials: figures.materialCost,
    unpriced: lots.flatMap(({ name, amount }) => (amount === null ? [name] : [])),
    quotedWage: figures.wages.likely,
    realWage: wageOf(paid - materials - overhead, actualHours),
  }
}
