import type { Insertable } from 'kysely'
import type { Db } from '../../server/db/open.ts'
import type { SittingRow } from '../../server/db/hours-tables.ts'
import type { DraftRevisionRow, DraftRow } from '../../server/db/draft-tables.ts'
import type { ClaimRow, OriginalRow, PieceRow, PieceYarnRow, SourceRow } from '../../server/db/tables.ts'
import type { DecisionRow, JudgementRow, WeightingRow } from '../../server/db/fidelity-tables.ts'
import type { ForecastRow, QuoteRow } from '../../server/db/quote-tables.ts'
import type { LotRow, MovementRow, YarnRow } from '../../server/db/yarn-tables.ts'
import { EQUAL_WEIGHTS } from '../../shared/fidelity/total.ts'
import { NOW } from './start.ts'

const at = NOW.toISOString()
const kept = { created_at: at, updated_at: at }

/** One row of a table, as far as the test cares; the rest is filled in. Each returns the id. */
export function makeSource(db: Db, row: Partial<Insertable<SourceRow>> = {}): number {
  const blank = { people: '', year: '', kind: 'book', container: '', pages: '', doi: '', isbn: '', url: '', notes: '' }
  return db.run(db.sql.insertInto('source').values({ title: 'Bands of the Fen', ...blank, ...kept, ...row })).id
}

export function makeOriginal(db: Db, row: Partial<Insertable<OriginalRow>> = {}): number {
  const found = { holder: '', inventory_number: '', find_place: '', find_context: '' }
  const blank = { other_names: '', date_edtf: '', technique: '', preservation: '', notes: '' }
  return db.run(db.sql.insertInto('original').values({ name: 'Fen band', ...found, ...blank, ...kept, ...row })).id
}

export function makePiece(db: Db, row: Partial<Insertable<PieceRow>> = {}): number {
  const blank = { maker: '', for_whom: '', set_aside_reason: '', notes: '', went_wrong: '' }
  return db.run(db.sql.insertInto('piece').values({ name: 'First trial', ...blank, ...kept, ...row })).id
}

export function makeDraft(db: Db, row: Partial<Insertable<DraftRow>> = {}): number {
  return db.run(db.sql.insertInto('draft').values({ title: 'Ladder', notes: '', ...kept, ...row })).id
}

export function makeRevision(db: Db, row: Partial<Insertable<DraftRevisionRow>> & { draft_id: number }): number {
  const document = JSON.stringify({
    title: 'Ladder',
    colours: { m: { name: 'madder', hex: '#9c3b2e' } },
    weft: 'm',
    tablets: [{ threading: 'S', holes: ['m', 'm', 'm', 'm'], start: 'A', part: 'pattern' }],
    picks: ['1F'],
  })
  const blank = { number: 1, note: '', document, tablets: 1, picks: 1, twist_neutral: 0 as const, created_at: at }
  return db.run(db.sql.insertInto('draft_revision').values({ ...blank, ...row })).id
}

export function makeClaim(db: Db, row: Partial<Insertable<ClaimRow>>): number {
  const value = { feature: 'width', part: '', kind: 'value' as const, value: '13.0', unit: 'mm' }
  const words = {
    state: 'asPreserved',
    basis: 'read',
    locator: '',
    reason: '',
    working_reason: '',
    withdrawn_reason: '',
  }
  return db.run(db.sql.insertInto('claim').values({ ...value, ...words, created_at: at, ...row })).id
}

export function makeYarn(db: Db, row: Partial<Insertable<PieceYarnRow>> & { piece_id: number }): number {
  const blank = { position: 1, role: 'warp', yarn: '', count_system: 'tex', ply: 1, colour_key: '' }
  return db.run(db.sql.insertInto('piece_yarn').values({ ...blank, ...row })).id
}

export function makeSitting(db: Db, row: Partial<Insertable<SittingRow>> & { piece_id: number }): number {
  const blank = { maker: '', stage: 'weave', zone: 'Europe/Berlin', day: '2026-11-20', minutes: 90, break_minutes: 0 }
  return db.run(db.sql.insertInto('sitting').values({ ...blank, note: '', ...kept, ...row })).id
}

export function makeForecast(db: Db, row: Partial<Insertable<ForecastRow>>): number {
  const of = { owner_id: null, piece_id: null, draft_revision_id: null, kind: 'whole' as const, done_minutes: 0 }
  const range = { low_minutes: 600, likely_minutes: 900, high_minutes: 1350 }
  const said = { made_on: '2026-11-20', made_at: at, stages: '[]', base: '', kept_by: 'button' as const }
  return db.run(db.sql.insertInto('forecast').values({ ...of, ...range, ...said, ...row })).id
}

/** A quote that is not sent. */
export function makeQuote(db: Db, row: Partial<Insertable<QuoteRow>>): number {
  const of = { owner_id: null, piece_id: null, draft_revision_id: null, forecast_id: null, answered_on: null }
  const blank = { ...of, entered: '{}', state: 'draft' as const, number_year: null, number_serial: null }
  return db.run(db.sql.insertInto('quote').values({ ...blank, ...kept, ...row })).id
}

/** A yarn on the shelf; `makeYarn` is what a piece was woven with. */
export function makeShelfYarn(db: Db, row: Partial<Insertable<YarnRow>> = {}): number {
  const blank = { blend: 'wool', count: '', count_reading: '', build: '', supplier: '', notes: '' }
  const measured = { wraps_per_cm: null, diameter_mm: null }
  return db.run(db.sql.insertInto('yarn').values({ name: 'Fen wool', ...blank, ...measured, ...kept, ...row })).id
}

export function makeShelfLot(db: Db, row: Partial<Insertable<LotRow>> & { yarn_id: number }): number {
  const colour = { colour_name: 'madder red', colour_hex: '#9c3b2e', colour_lab: '' }
  const dyed = { dye: '', mordant: '', recipe: '', dyed_by: '', dyed_on: null, lot_number: '', supplier: '', notes: '' }
  const price = { price_minor: null, price_currency: '', price_for: '' }
  return db.run(db.sql.insertInto('lot').values({ ...colour, ...dyed, ...price, ...kept, ...row })).id
}

export function makeShelfMovement(db: Db, row: Partial<Insertable<MovementRow>> & { lot_id: number }): number {
  const sums = { mass_mg: 100_000, reserved_mg: 0, expected_mg: null, found_mg: null, accepted_below: 0 as const }
  const of = { piece_id: null, other_lot_id: null, corrects_id: null }
  const said = { kind: 'bought', on_day: '2026-11-20', note: '', created_at: at }
  return db.run(db.sql.insertInto('movement').values({ ...said, ...sums, ...of, ...row })).id
}

export function makeJudgement(db: Db, row: Partial<Insertable<JudgementRow>> & { piece_id: number }): number {
  const words = { known: '', used: '', reason: '', look: '', size: '', hand: '', wear: '', label_words: '' }
  const spot = { aspect: 'fibre', place: 'warp', relation: 'notJudged', reason_kind: '' }
  return db.run(db.sql.insertInto('judgement').values({ ...words, ...spot, ...kept, ...row })).id
}

export function makeDecision(db: Db, row: Partial<Insertable<DecisionRow>>): number {
  const words = { question: 'Which way round', decided: 'This way', evidence: '', considered: '', decided_by: '' }
  return db.run(db.sql.insertInto('decision').values({ ...words, on_day: '2026-11-20', ...kept, ...row })).id
}

/** All aspects alike, or what a test says. */
export function makeWeighting(db: Db, row: Partial<Insertable<WeightingRow>> = {}): number {
  const weights = JSON.stringify(EQUAL_WEIGHTS)
  return db.run(db.sql.insertInto('weighting').values({ name: 'Weights', weights, notes: '', ...kept, ...row })).id
}
