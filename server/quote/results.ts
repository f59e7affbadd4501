import { toDecimals } from '../../shared/measure/rounding.ts'
import { wageOf } from '../../shared/price/work-out-quote.ts'
import type { Db } from '../db/open.ts'
import { findQuotedAndActual, type QuotedAndActual } from './actual.ts'
import { listQuotes, type Quote } from './queries.ts'

/** Quotes of one sort, added up; amounts of two currencies are never added. */
export interface ResultRow {
  readonly head: string
  readonly path: string
  readonly n: number
  readonly currency: string
  readonly quotedHours: bigint
  readonly actualHours: bigint
  /** Actual over quoted; empty without quoted hours. */
  readonly ratio: string
  readonly paid: bigint
  /** What was left for an hour, all hours together; null without hours. */
  readonly wage: bigint | null
}

export interface Results {
  readonly quotes: readonly ResultRow[]
  readonly byClient: readonly ResultRow[]
  readonly byWork: readonly ResultRow[]
}

interface Held {
  readonly quote: Quote
  readonly held: QuotedAndActual
}

/** Every quote of the viewer's own that was accepted and whose piece is finished, against what it took. */
export function listResults(db: Db): Results {
  const all = listQuotes(db).flatMap((quote): Held[] => {
    const held = findQuotedAndActual(db, quote)
    return held ? [{ quote, held }] : []
  })
  const typed = ({ entered }: Quote, name: string, otherwise: string) => (entered[name] ?? '').trim() || otherwise
  return {
    quotes: all.map((one) => ({
      ...addUp([one], `${one.quote.number}, ${typed(one.quote, 'title', 'a woven band')}`),
      path: `/quotes/${one.quote.id}`,
    })),
    byClient: group(all, (quote) => typed(quote, 'client', 'no client named')),
    byWork: group(all, (quote) => typed(quote, 'work-kind', 'no kind named')),
  }
}

function group(all: readonly Held[], nameOf: (quote: Quote) => string): ResultRow[] {
  const groups = new Map<string, Held[]>()
  for (const one of all) {
    const key = `${nameOf(one.quote)}\n${one.held.currency}`
    groups.set(key, [...(groups.get(key) ?? []), one])
  }
  return [...groups].map(([key, some]) => addUp(some, key.split('\n')[0] ?? ''))
}

function addUp(some: readonly Held[], head: string): ResultRow {
  const sum = (of: (held: QuotedAndActual) => bigint) => some.reduce((all, { held }) => all + of(held), 0n)
  const [quotedHours, actualHours, paid] = [
    sum((held) => held.quotedHours),
    sum((held) => held.actualHours),
    sum((held) => held.paid),
  ]
  return {
    ...{ head, path: '', n: some.length, currency: some[0]?.held.currency ?? 'EUR', quotedHours, actualHours, paid },
    ratio: quotedHours === 0n ? '' : toDecimals(Number(actualHours) / Number(quotedHours), 2),
    wage: wageOf(paid - sum((held) => held.actualMaterials) - sum((held) => held.overhead), actualHours),
  }
}
