import type { Generated } from 'kysely'

export interface QuoteTables {
  forecast: ForecastRow
  quote: QuoteRow
  quote_version: QuoteVersionRow
  quote_terms: QuoteTermsRow
}

/** Hours foretold, kept to be held against what it took; written once. */
export interface ForecastRow {
  id: Generated<number>
  uid: Generated<string>
  owner_id: number | null
  piece_id: number | null
  draft_revision_id: number | null
  /** What was still to go at the loom and after it, or a band as a whole. */
  kind: 'remaining' | 'whole'
  /** The local day. */
  made_on: string
  made_at: string
  /** Worked on the piece by then, breaks taken off. */
  done_minutes: number
  /** Ends and middle of the 80 % interval. */
  low_minutes: number
  likely_minutes: number
  high_minutes: number
  /** JSON: list of stages with their minutes and what they rest on. */
  stages: string
  /** What it rests on, in a sentence or two. */
  base: string
  kept_by: 'button' | 'quote'
  demo: Generated<0 | 1>
}

export type QuoteState = 'draft' | 'sent' | 'accepted' | 'declined' | 'lapsed' | 'withdrawn'

/** An offer to a client, as it is being written; what was sent stands in its versions. */
export interface QuoteRow {
  id: Generated<number>
  uid: Generated<string>
  owner_id: number | null
  piece_id: number | null
  draft_revision_id: number | null
  forecast_id: number | null
  /** JSON: every field as it was typed. */
  entered: string
  state: QuoteState
  /** Given when it is sent for the first time: running within the year, for each maker. */
  number_year: number | null
  number_serial: number | null
  /** The day of the answer, of the lapse or of the withdrawal. */
  answered_on: string | null
  demo: Generated<0 | 1>
  version: Generated<number>
  deleted_at: Generated<string | null>
  created_at: string
  updated_at: string
}

/** A quote as it was sent; never changed. */
export interface QuoteVersionRow {
  id: Generated<number>
  uid: Generated<string>
  quote_id: number
  number: number
  sent_on: string
  sent_at: string
  entered: string
  /** JSON: the document, word for word. */
  paper: string
}

/** What a maker keeps for all of their quotes; one a maker. */
export interface QuoteTermsRow {
  id: Generated<number>
  uid: Generated<string>
  owner_id: number | null
  entered: string
  version: Generated<number>
  created_at: string
  updated_at: string
}
