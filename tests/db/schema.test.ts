import { describe, expect, test } from 'vitest'
import type { Tables } from '../../server/db/tables.ts'
import { migrations } from '../../migrations/index.ts'
import { migratedDb } from '../support/start.ts'

const OWNED = { uid: 1, owner_id: 1, visibility: 1, version: 1, deleted_at: 1 } as const

/** The compiler holds this list to `tables.ts`, the test holds it to the migrations. */
const COLUMNS: { [T in keyof Tables]: Record<keyof Tables[T], 1> } = {
  source: {
    ...{ id: 1, title: 1, people: 1, year: 1, kind: 1, container: 1, pages: 1, doi: 1, isbn: 1, url: 1, notes: 1 },
    ...{ editors: 1, volume: 1, issue: 1, publisher: 1, place: 1, edition: 1, issn: 1, accessed_on: 1, cite_key: 1 },
    other_csl: 1,
    ...{ demo: 1, created_at: 1, updated_at: 1 },
    ...OWNED,
  },
  source_reference: {
    ...{ source_id: 1, style: 1, locator: 1, engine: 1, source_version: 1, entry: 1, citation: 1 },
  },
  citation_style: { id: 1, style: 1 },
  original: {
    ...{ id: 1, name: 1, other_names: 1, holder: 1, inventory_number: 1, find_place: 1, find_context: 1 },
    ...{ date_edtf: 1, earliest_year: 1, latest_year: 1, technique: 1, preservation: 1, notes: 1 },
    ...{ demo: 1, created_at: 1, updated_at: 1 },
    ...OWNED,
  },
  draft: {
    ...{ id: 1, title: 1, notes: 1, original_id: 1, convention: 1, convention_note: 1, demo: 1, created_at: 1 },
    updated_at: 1,
    ...OWNED,
  },
  draft_revision: {
    uid: 1,
    ...{ id: 1, draft_id: 1, number: 1, note: 1, document: 1, tablets: 1, picks: 1, twist_neutral: 1, created_at: 1 },
  },
  working_copy: { id: 1, draft_id: 1, member_id: 1, base_number: 1, version: 1, document: 1, saved_at: 1 },
  piece: {
    ...{ id: 1, name: 1, maker: 1, for_whom: 1, original_id: 1, draft_revision_id: 1, planned_on: 1, on_loom_on: 1 },
    ...{ woven_on: 1, finished_on: 1, set_aside_on: 1, set_aside_reason: 1, notes: 1, went_wrong: 1 },
    ...{ demo: 1, created_at: 1, updated_at: 1 },
    ...OWNED,
  },
  piece_yarn: {
    uid: 1,
    ...{ id: 1, piece_id: 1, position: 1, role: 1, yarn: 1, count: 1, count_system: 1, ply: 1, colour_key: 1 },
    lot_id: 1,
  },
  feature: { owner_id: 1, key: 1, label: 1, quantity: 1, created_at: 1 },
  claim: {
    uid: 1,
    ...{ id: 1, original_id: 1, piece_id: 1, feature: 1, part: 1, kind: 1, value: 1, low: 1, high: 1, words: 1 },
    ...{ readings: 1, blank: 1, unit: 1, n: 1, u: 1, resolution: 1, state: 1, basis: 1, source_id: 1, locator: 1 },
    ...{ claimed_by: 1, claimed_on: 1, reason: 1, corrects_id: 1, working: 1, working_reason: 1, withdrawn_on: 1 },
    ...{ withdrawn_reason: 1, created_at: 1 },
  },
  sitting: {
    ...{ uid: 1, version: 1, deleted_at: 1 },
    ...{ id: 1, piece_id: 1, maker: 1, stage: 1, zone: 1, day: 1, started_at: 1, ended_at: 1, minutes: 1 },
    ...{ break_minutes: 1, picks: 1, repeats: 1, length_mm: 1, note: 1, created_at: 1, updated_at: 1 },
    ...{ origin: 1, steps_from: 1, steps_to: 1, said_stage: 1, said_started_at: 1, said_ended_at: 1 },
    ...{ said_break_minutes: 1, said_picks: 1 },
  },
  search: { rowid: 1, kind: 1, item_id: 1, title: 1, body: 1, own: 1, cited: 1 },
  member: { id: 1, name: 1, sign_in_name: 1, password_hash: 1, role: 1, created_at: 1, left_at: 1 },
  session: { token_hash: 1, member_id: 1, created_at: 1, seen_at: 1, expires_at: 1, agent: 1 },
  known_device: { token_hash: 1, member_id: 1, seen_at: 1 },
  sign_in_limit: { key: 1, points: 1, expire: 1 },
  one_time_link: { token_hash: 1, kind: 1, member_id: 1, role: 1, created_at: 1, expires_at: 1, used_at: 1 },
  api_token: {
    ...{ id: 1, token_hash: 1, member_id: 1, name: 1, scope: 1, created_at: 1, expires_at: 1, last_used_at: 1 },
  },
  co_maker: { piece_id: 1, member_id: 1 },
  change: { id: 1, at: 1, member_id: 1, kind: 1, item_id: 1, action: 1, version: 1, fields: 1 },
  backup_run: { id: 1, at: 1, file: 1, bytes: 1, ok: 1, message: 1 },
  restore_run: { id: 1, at: 1, by_name: 1, backup_at: 1, safety: 1 },
  photo: {
    ...{ id: 1, uid: 1, original_id: 1, piece_id: 1, part: 1, caption: 1, credit: 1, licence: 1, taken_on: 1, file: 1 },
    ...{ sha256: 1, width: 1, height: 1, bytes: 1, original_bytes: 1, version: 1, deleted_at: 1 },
    ...{ created_at: 1, updated_at: 1 },
  },
  observed: {
    ...{ id: 1, uid: 1, original_id: 1, piece_id: 1, photo_id: 1, colours: 1, cells: 1, marks: 1, observed_on: 1 },
    ...{ observed_by: 1, note: 1, draft_revision_id: 1, shift: 1, differing: 1, version: 1, deleted_at: 1 },
    ...{ created_at: 1, updated_at: 1 },
  },
  yarn: {
    ...{ id: 1, name: 1, blend: 1, count: 1, count_reading: 1, build: 1, wraps_per_cm: 1, diameter_mm: 1, supplier: 1 },
    ...{ notes: 1, demo: 1, created_at: 1, updated_at: 1 },
    ...OWNED,
  },
  lot: {
    ...{ id: 1, uid: 1, yarn_id: 1, colour_name: 1, colour_hex: 1, colour_lab: 1, dye: 1, mordant: 1, recipe: 1 },
    ...{ dyed_by: 1, dyed_on: 1, lot_number: 1, supplier: 1, price_minor: 1, price_currency: 1, price_for: 1 },
    ...{ notes: 1, version: 1, deleted_at: 1, created_at: 1, updated_at: 1 },
  },
  movement: {
    ...{ id: 1, uid: 1, lot_id: 1, kind: 1, on_day: 1, mass_mg: 1, reserved_mg: 1, expected_mg: 1, found_mg: 1 },
    ...{ piece_id: 1, other_lot_id: 1, corrects_id: 1, accepted_below: 1, note: 1, created_at: 1 },
  },
  forecast: {
    ...{ id: 1, uid: 1, owner_id: 1, piece_id: 1, draft_revision_id: 1, kind: 1, made_on: 1, made_at: 1 },
    ...{ done_minutes: 1, low_minutes: 1, likely_minutes: 1, high_minutes: 1, stages: 1, base: 1, kept_by: 1, demo: 1 },
  },
  quote: {
    ...{ id: 1, uid: 1, owner_id: 1, piece_id: 1, draft_revision_id: 1, forecast_id: 1, entered: 1, state: 1 },
    ...{ number_year: 1, number_serial: 1, answered_on: 1, demo: 1, version: 1, deleted_at: 1, created_at: 1 },
    updated_at: 1,
  },
  quote_version: { id: 1, uid: 1, quote_id: 1, number: 1, sent_on: 1, sent_at: 1, entered: 1, paper: 1 },
  quote_terms: { id: 1, uid: 1, owner_id: 1, entered: 1, version: 1, created_at: 1, updated_at: 1 },
  fibre_density: {
    ...{ id: 1, uid: 1, owner_id: 1, fibre: 1, low: 1, high: 1, source: 1, on_day: 1, version: 1 },
    ...{ created_at: 1, updated_at: 1 },
  },
  plan: {
    ...{ id: 1, uid: 1, piece_id: 1, woven_by: 1, woven_cm: 1, repeats: 1, picks_per_cm: 1, width_mm: 1 },
    ...{ take_up_by: 1, take_up_percent: 1, take_up_of: 1, waste_cm: 1, sample_cm: 1, fringe_cm: 1 },
    ...{ shrink_percent: 1, weft_strands: 1, weft_passes: 1, weft_allowance: 1, winder: 1, winder_turn_cm: 1 },
    ...{ winder_arms: 1, winder_spacing_cm: 1, fibre: 1, spun: 1, twist_limit: 1, block_picks: 1, borders: 1 },
    ...{ reversals: 1, wound_cm: 1, left_cm: 1, measured_cm: 1, stopped_pick: 1, version: 1 },
    ...{ created_at: 1, updated_at: 1 },
  },
  plan_yarn: {
    ...{ id: 1, uid: 1, plan_id: 1, position: 1, part: 1, colour_key: 1, lot_id: 1, yarn_id: 1, count: 1 },
  },
  threading_tick: { id: 1, piece_id: 1, member_id: 1, draft_revision_id: 1, tablets: 1, saved_at: 1 },
  loom_step: {
    ...{ id: 1, uid: 1, piece_id: 1, draft_revision_id: 1, member_id: 1, device: 1, seq: 1, kind: 1, place: 1 },
    ...{ at: 1, device_at: 1, zone: 1, received_at: 1, note: 1 },
  },
  steps_left_out: { id: 1, uid: 1, piece_id: 1, member_id: 1, steps_from: 1, steps_to: 1, created_at: 1 },
  hours_limit: { id: 1, piece_id: 1, member_id: 1, break_minutes: 1, end_minutes: 1 },
  timer: {
    ...{ id: 1, piece_id: 1, member_id: 1, stage: 1, zone: 1, started_at: 1, paused_at: 1, paused_seconds: 1 },
    stopped_at: 1,
  },
  judgement: {
    ...{ id: 1, uid: 1, piece_id: 1, aspect: 1, place: 1, known: 1, used: 1, relation: 1, reason_kind: 1, reason: 1 },
    ...{ look: 1, size: 1, hand: 1, wear: 1, label_words: 1, version: 1, deleted_at: 1, created_at: 1, updated_at: 1 },
  },
  decision: {
    ...{ id: 1, uid: 1, original_id: 1, piece_id: 1, on_day: 1, decided_by: 1, question: 1, decided: 1, evidence: 1 },
    ...{ considered: 1, version: 1, deleted_at: 1, created_at: 1, updated_at: 1 },
  },
  weighting: { id: 1, name: 1, weights: 1, notes: 1, demo: 1, created_at: 1, updated_at: 1, ...OWNED },
}

describe('migrations', () => {
  const { raw } = migratedDb()
  const columns = (table: string) => (raw.pragma(`table_info(${table})`) as { name: string }[]).map(({ name }) => name)

  test.each(Object.keys(COLUMNS) as (keyof Tables)[])('make the columns of %s that tables.ts types', (table) => {
    const typed = Object.keys(COLUMNS[table]).filter((column) => column !== 'rowid')
    expect(columns(table).sort()).toEqual(typed.sort())
  })

  test('make no table that tables.ts does not know', () => {
    const made = raw
      .prepare(
        "select name from sqlite_schema where type = 'table' and name not like 'sqlite_%' and name not like 'search_%'",
      )
      .pluck()
      .all()
    expect(made.sort()).toEqual(Object.keys(COLUMNS).sort())
  })

  test('are in the order of their names, each name once', () => {
    const names = migrations.map(({ name }) => name)
    expect([...new Set(names)].sort()).toEqual(names)
  })
})

describe('the structure', () => {
  const at = '2026-11-24T12:00:00.000Z'

  test('never lets a draft revision change, and lets it go with its draft', () => {
    const { raw } = migratedDb()
    raw.exec(`insert into draft (id, title, notes, created_at, updated_at) values (1, 'Ladder', '', '${at}', '${at}');
      insert into draft_revision (draft_id, number, note, document, tablets, picks, twist_neutral, created_at)
      values (1, 1, '', '{}', 6, 8, 1, '${at}')`)
    expect(() => raw.exec("update draft_revision set note = 'better'")).toThrow('a draft revision is never changed')
    expect(() => raw.exec(`update draft_revision set document = '{"title":"x"}'`)).toThrow('never changed')
    raw.exec('delete from draft')
    expect(raw.prepare('select count(*) from draft_revision').pluck().get()).toBe(0)
  })

  const CLAIM = `insert into claim (original_id, piece_id, feature, part, kind, unit, state, basis, locator, reason,
    working, working_reason, withdrawn_on, withdrawn_reason, created_at) values`

  test('allows one working claim a feature and part, and none that is withdrawn', () => {
    const { raw } = migratedDb()
    raw.exec(`insert into original (id, name, other_names, holder, inventory_number, find_place, find_context, date_edtf,
      technique, preservation, notes, created_at, updated_at) values (1, 'Band', '', '', '', '', '', '', '', '', '', '', '')`)
    const claim = (part: string, working: number, withdrawn = 'null') =>
      raw.exec(
        `${CLAIM} (1, null, 'width', '${part}', 'blank', '', '', '', '', '', ${working}, '', ${withdrawn}, '', '')`,
      )
    claim('', 1)
    claim('', 0)
    claim('edge', 1)
    expect(() => claim('', 1)).toThrow('UNIQUE constraint failed')
    expect(() => claim('fringe', 1, "'2026-11-24'")).toThrow('CHECK constraint failed')
  })

  test('refuses a claim about nothing', () => {
    const { raw } = migratedDb()
    expect(() =>
      raw.exec(`${CLAIM} (null, null, 'width', '', 'blank', '', '', '', '', '', 0, '', null, '', '')`),
    ).toThrow('CHECK constraint failed')
  })
})
