import type { Selectable } from 'kysely'
import { BLANK_QUOTE, TERM_FIELDS, type QuoteEntered } from '../../shared/price/quote-entry.ts'
import { quotePaper, type QuotePaper } from '../../shared/price/quote-paper.ts'
import { toBin } from '../bin/queries.ts'
import { requireUnchanged } from '../conflict/stale.ts'
import type { Db } from '../db/open.ts'
import type { QuoteRow, QuoteState, QuoteVersionRow } from '../db/quote-tables.ts'
import { isOwn } from '../rights/readable.ts'
import { currentMemberId } from '../rights/viewer.ts'

/** A quote of the viewer's own; nobody else's is ever read. */
export interface Quote {
  readonly id: number
  readonly entered: QuoteEntered
  readonly state: QuoteState
  /** `2026-003`; empty while it is not sent. */
  readonly number: string
  readonly pieceId: number | undefined
  readonly revisionId: number | undefined
  readonly forecastId: number | undefined
  readonly answeredOn: string | undefined
  readonly version: number
  readonly createdAt: string
  /** How many versions were sent. */
  readonly sent: number
}

/** A version as it was sent, word for word. */
export interface SentVersion {
  readonly number: number
  readonly sentOn: string
  readonly entered: QuoteEntered
  readonly paper: QuotePaper
}

export interface NewQuote {
  readonly entered: QuoteEntered
  readonly pieceId?: number | undefined
  readonly revisionId?: number | undefined
  readonly forecastId?: number | undefined
  readonly demo?: 0 | 1
}

export const quoteNumber = (year: number, serial: number): string => `${year}-${String(serial).padStart(3, '0')}`

/** The viewer's quotes, those not sent first, then the latest number first. */
export function listQuotes(db: Db): Quote[] {
  const rows = db.all(
    selectOwn(db)
      .orderBy('number_year', (order) => order.desc().nullsFirst())
      .orderBy('number_serial', 'desc')
      .orderBy('id', 'desc'),
  )
  return rows.map((row) => toQuote(db, row))
}

export function findQuote(db: Db, id: number): Quote | undefined {
  const row = db.first(selectOwn(db).where('id', '=', id))
  return row && toQuote(db, row)
}

const selectOwn = (db: Db) =>
  db.sql.selectFrom('quote').selectAll().where('deleted_at', 'is', null).where(isOwn('quote'))

/** What was sent, the latest first. */
export function listSent(db: Db, quoteId: number): SentVersion[] {
  const query = db.sql.selectFrom('quote_version').selectAll().where('quote_id', '=', quoteId)
  return db.all(query.orderBy('number', 'desc')).map(toSent)
}

export function insertQuote(
  db: Db,
  { entered, pieceId, revisionId, forecastId, demo = 0 }: NewQuote,
  at: string,
): number {
  const about = { piece_id: pieceId ?? null, draft_revision_id: revisionId ?? null, forecast_id: forecastId ?? null }
  const row = { ...about, owner_id: currentMemberId(), demo, created_at: at, updated_at: at, answered_on: null }
  const blank = { state: 'draft' as const, number_year: null, number_serial: null }
  return db.run(db.sql.insertInto('quote').values({ ...row, ...blank, entered: JSON.stringify(entered) })).id
}

/** Keeps what was typed, while it may still be changed. @returns false when it is not there, or answered */
export function saveQuote(
  db: Db,
  id: number,
  { entered, forecastId }: { entered: QuoteEntered; forecastId?: number | undefined },
  at: string,
): boolean {
  return db.write(() => {
    requireUnchanged(db, 'quote', id)
    const set = { entered: JSON.stringify(entered), updated_at: at, ...(forecastId ? { forecast_id: forecastId } : {}) }
    return change(db, id, set, ['draft', 'sent'])
  })
}

/**
 * Freezes what is kept as the next version. The first one takes the next number of the year; numbers run without a gap, for
 * what was sent can never go.
 * @returns the version's number; undefined when it is not there, or answered
 */
export function sendQuote(db: Db, id: number, { today, at }: { today: string; at: string }): number | undefined {
  return db.write(() => {
    const row = db.first(selectOwn(db).where('id', '=', id).where('state', 'in', ['draft', 'sent']))
    if (!row) return undefined
    const year = row.number_year ?? Number(today.slice(0, 4))
    const serial = row.number_serial ?? nextSerial(db, row.owner_id, year)
    const version = countSent(db, id) + 1
    const set = { state: 'sent' as const, number_year: year, number_serial: serial, updated_at: at }
    change(db, id, set, ['draft', 'sent'])
    const paper = quotePaper(readEnteredJson(row.entered), {
      number: quoteNumber(year, serial),
      version,
      sentOn: today,
    })
    const sent = { quote_id: id, number: version, sent_on: today, sent_at: at, entered: row.entered }
    db.run(db.sql.insertInto('quote_version').values({ ...sent, paper: JSON.stringify(paper) }))
    return version
  })
}

/** Says what became of a quote that was sent; `sent` takes an answer back. @returns false when it was not sent */
export function answerQuote(
  db: Db,
  id: number,
  { state, day }: { state: Exclude<QuoteState, 'draft'>; day: string },
  at: string,
): boolean {
  const answered = ['sent', 'accepted', 'declined', 'lapsed', 'withdrawn'] as const
  return db.write(() => change(db, id, { state, answered_on: state === 'sent' ? null : day, updated_at: at }, answered))
}

/** Says which piece it is woven as; its forecast is about the same. */
export function setQuotePiece(db: Db, quote: Quote, pieceId: number | null, at: string): void {
  db.write(() => {
    change(db, quote.id, { piece_id: pieceId, updated_at: at }, [
      'draft',
      'sent',
      'accepted',
      'declined',
      'lapsed',
      'withdrawn',
    ])
    if (quote.forecastId === undefined) return
    const query = db.sql.updateTable('forecast').set({ piece_id: pieceId })
    db.run(
      query.where('id', '=', quote.forecastId).where('kind', '=', 'whole').where('draft_revision_id', 'is not', null),
    )
  })
}

/** Throws a quote that was not sent into the bin. @returns false when it is not there, or was sent */
export function deleteQuote(db: Db, id: number, at: string): boolean {
  const quote = findQuote(db, id)
  return quote !== undefined && quote.state === 'draft' && toBin(db, 'quote', id, at)
}

type Set = Partial<
  Pick<QuoteRow, 'entered' | 'state' | 'piece_id' | 'forecast_id' | 'number_year' | 'number_serial' | 'answered_on'>
> & { readonly updated_at: string }

function change(db: Db, id: number, set: Set, states: readonly QuoteState[]): boolean {
  const query = db.sql
    .updateTable('quote')
    .set((e) => ({ ...set, version: e('version', '+', 1) }))
    .where('id', '=', id)
    .where('deleted_at', 'is', null)
    .where('state', 'in', states)
  return db.run(query).changes === 1
}

function nextSerial(db: Db, ownerId: number | null, year: number): number {
  const query = db.sql.selectFrom('quote').select((e) => e.fn.max('number_serial').as('last'))
  const row = db.first(query.where('owner_id', 'is', ownerId).where('number_year', '=', year))
  return (row?.last ?? 0) + 1
}

const countSent = (db: Db, id: number): number =>
  db.first(
    db.sql
      .selectFrom('quote_version')
      .select((e) => e.fn.countAll<number>().as('count'))
      .where('quote_id', '=', id),
  )?.count ?? 0

/** What the viewer keeps for all of their quotes; `version` 0 while nothing is kept. */
export function findTerms(db: Db): { readonly entered: QuoteEntered; readonly version: number } {
  const row = db.first(db.sql.selectFrom('quote_terms').selectAll().where('owner_id', 'is', currentMemberId()))
  return row ? { entered: readEnteredJson(row.entered), version: row.version } : { entered: BLANK_QUOTE, version: 0 }
}

/** Keeps them. @returns false when another window has kept others since `opened` */
export function saveTerms(db: Db, entered: QuoteEntered, opened: number, at: string): boolean {
  const kept = JSON.stringify(Object.fromEntries(TERM_FIELDS.map((field) => [field, entered[field] ?? ''])))
  return db.write(() => {
    const { version } = findTerms(db)
    if (version !== opened) return false
    const whose = currentMemberId()
    if (version === 0)
      db.run(
        db.sql.insertInto('quote_terms').values({ owner_id: whose, entered: kept, created_at: at, updated_at: at }),
      )
    else {
      const query = db.sql
        .updateTable('quote_terms')
        .set((e) => ({ entered: kept, updated_at: at, version: e('version', '+', 1) }))
      db.run(query.where('owner_id', 'is', whose))
    }
    return true
  })
}

function toQuote(db: Db, row: Selectable<QuoteRow>): Quote {
  return {
    ...{ id: row.id, entered: readEnteredJson(row.entered), state: row.state, version: row.version },
    number:
      row.number_year === null || row.number_serial === null ? '' : quoteNumber(row.number_year, row.number_serial),
    pieceId: row.piece_id ?? undefined,
    revisionId: row.draft_revision_id ?? undefined,
    forecastId: row.forecast_id ?? undefined,
    answeredOn: row.answered_on ?? undefined,
    createdAt: row.created_at,
    sent: countSent(db, row.id),
  }
}

const toSent = (row: Selectable<QuoteVersionRow>): SentVersion => ({
  ...{ number: row.number, sentOn: row.sent_on, entered: readEnteredJson(row.entered) },
  paper: JSON.parse(row.paper) as QuotePaper,
})

const readEnteredJson = (text: string): QuoteEntered => ({
  ...BLANK_QUOTE,
  ...(JSON.parse(text) as Record<string, string>),
})
