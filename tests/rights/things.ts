import type { Insertable } from 'kysely'
import type { Db } from '../../server/db/open.ts'
import type { ObservedRow } from '../../server/db/observed-table.ts'
import type { PhotoRow } from '../../server/db/people-tables.ts'
import type { Visibility } from '../../server/db/tables.ts'
import type { Subject } from '../../server/rights/rule.ts'
import { BLANK_QUOTE } from '../../shared/price/quote-entry.ts'
import { quotePaper } from '../../shared/price/quote-paper.ts'
import type { People } from '../support/people.ts'
import {
  makeClaim,
  makeDecision,
  makeDraft,
  makeForecast,
  makeJudgement,
  makeOriginal,
  makePiece,
  makeQuote,
  makeRevision,
  makeShelfLot,
  makeShelfMovement,
  makeShelfYarn,
  makeSitting,
  makeSource,
  makeWeighting,
} from '../support/rows.ts'
import { NOW } from '../support/start.ts'

/** `deleted`: in the bin, with what it belongs to; `binned`: in the bin by itself, while that stands. */
export const STATES = ['private', 'members', 'published', 'deleted', 'binned', 'absent'] as const
export type State = (typeof STATES)[number]

/** What a rule may speak of; what belongs to an original and what to a piece are two things, for pieces have co-makers. */
export const THINGS = [
  ...(['source', 'original', 'draft', 'piece', 'sitting', 'yarn', 'lot', 'movement'] as const),
  ...(['claim of an original', 'claim of a piece', 'photo of an original', 'photo of a piece'] as const),
  ...(['observed of an original', 'observed of a piece', 'fibre_density', 'quote', 'forecast'] as const),
  ...(['observed of an original', 'observed of a piece', 'judgement', 'weighting'] as const),
  ...(['decision of an original', 'decision of a piece'] as const),
] as const
export type Thing = (typeof THINGS)[number]

export const subjectOf = (thing: Thing): Subject => thing.split(' ')[0] as Subject
export const hasCoMaker = (thing: Thing): boolean =>
  thing === 'sitting' || thing === 'judgement' || thing.endsWith('piece')

/** Quotes, forecasts and densities of fibres are their owner's alone, whatever else is shared; only quotes lie in the bin. */
export const stateAs = (thing: Thing, state: State): State =>
  thing === 'quote'
    ? state === 'members' || state === 'published'
      ? 'private'
      : state
    : (thing === 'fibre_density' || thing === 'forecast') && state !== 'absent'
      ? 'private'
      : state

/** One of each thing in each state, all of them the owner's; the id that an address names it by. */
export function makeThings(db: Db, { owner, coMaker }: People): Record<Thing, Record<State, number>> {
  const ids = {} as Record<Thing, Record<State, number>>
  for (const thing of THINGS) ids[thing] = {} as Record<State, number>
  const keep = (state: State, made: Record<Thing, number>) => {
    for (const thing of THINGS) ids[thing][state] = made[thing]
  }
  for (const state of STATES) {
    if (state === 'absent') keep(state, Object.fromEntries(THINGS.map((thing) => [thing, 999_999])) as never)
    else if (state !== 'binned') keep(state, makeOne(db, state, owner.id, coMaker.id))
  }
  keep('binned', makeBinned(db, owner.id, coMaker.id, ids))
  return ids
}

/** What lies in the bin by itself, while what it belongs to stands. */
const PARTS = ['sitting', 'photo', 'observed', 'lot', 'judgement', 'decision'] as const
const isOne = <K extends string>(all: readonly K[], one: string): one is K => (all as readonly string[]).includes(one)

/** A sitting and photographs have a place in the bin of their own; what has none lies there with what it belongs to. */
function makeBinned(db: Db, ownerId: number, coMakerId: number, ids: Record<Thing, Record<State, number>>) {
  const made = makeOne(db, 'published', ownerId, coMakerId)
  const deleted = { deleted_at: NOW.toISOString() }
  return Object.fromEntries(
    THINGS.map((thing) => {
      const table = subjectOf(thing)
      // An entry of a ledger lies there with its lot.
      if (thing === 'movement') return [thing, made[thing]]
      if (thing === 'fibre_density' || thing === 'forecast') return [thing, made[thing]]
      if (table !== 'sitting' && table !== 'photo' && table !== 'observed' && table !== 'lot')
        return [thing, ids[thing].deleted]
      if (!isOne(PARTS, table)) return [thing, ids[thing].deleted]
      db.run(db.sql.updateTable(table).set(deleted).where('id', '=', made[thing]))
      return [thing, made[thing]]
    }),
  ) as Record<Thing, number>
}

function makeOne(
  db: Db,
  state: Exclude<State, 'absent' | 'binned'>,
  owner_id: number,
  member_id: number,
): Record<Thing, number> {
  const isDeleted = state === 'deleted'
  const visibility: Visibility = isDeleted ? 'published' : state
  const row = { owner_id, visibility, deleted_at: isDeleted ? NOW.toISOString() : null }
  const [source, original, draft, piece] = [
    makeSource(db, row),
    makeOriginal(db, row),
    makeDraft(db, row),
    makePiece(db, row),
  ]
  const revision = makeRevision(db, { draft_id: draft })
  const yarn = makeShelfYarn(db, row)
  const lot = makeShelfLot(db, { yarn_id: yarn })
  db.run(db.sql.insertInto('co_maker').values({ piece_id: piece, member_id }))
  return {
    ...{ source, original, draft, piece, yarn, lot },
    movement: makeShelfMovement(db, { lot_id: lot }),
    fibre_density: makeDensity(db, owner_id),
    quote: isDeleted ? makeQuote(db, { owner_id, deleted_at: row.deleted_at }) : makeSentQuote(db, owner_id),
    forecast: makeForecast(db, { owner_id, draft_revision_id: revision }),
    sitting: makeSitting(db, { piece_id: piece }),
    'claim of an original': makeClaim(db, { original_id: original }),
    'claim of a piece': makeClaim(db, { piece_id: piece }),
    'photo of an original': makePhoto(db, { original_id: original }),
    'photo of a piece': makePhoto(db, { piece_id: piece }),
    'observed of an original': makeObserved(db, { original_id: original }),
    'observed of a piece': makeObserved(db, { piece_id: piece }),
    judgement: makeJudgement(db, { piece_id: piece }),
    weighting: makeWeighting(db, row),
    'decision of an original': makeDecision(db, { original_id: original }),
    'decision of a piece': makeDecision(db, { piece_id: piece }),
  }
}

/** With one version; what was sent lies in no bin. */
function makeSentQuote(db: Db, owner_id: number): number {
  const serial = 1 + Number(db.raw.prepare('select count(*) from quote').pluck().get())
  const id = makeQuote(db, { owner_id, state: 'sent', number_year: 2026, number_serial: serial })
  const paper = JSON.stringify(quotePaper(BLANK_QUOTE, { number: '2026-001', version: 1, sentOn: '2026-11-20' }))
  const sent = { quote_id: id, number: 1, sent_on: '2026-11-20', sent_at: NOW.toISOString(), entered: '{}', paper }
  db.run(db.sql.insertInto('quote_version').values(sent))
  return id
}

/** One pick of two tablets, of which one is legible. */
export function makeObserved(db: Db, row: Partial<Insertable<ObservedRow>>): number {
  const at = NOW.toISOString()
  const face = { colours: '{"m":{"name":"madder","hex":"#9c3b2e"}}', cells: 'm .', marks: '', differing: '' }
  const words = { observed_by: '', note: '', observed_on: null }
  return db.run(db.sql.insertInto('observed').values({ ...face, ...words, created_at: at, updated_at: at, ...row })).id
}

/** Without its file. */
export function makePhoto(db: Db, row: Partial<Insertable<PhotoRow>>): number {
  const at = NOW.toISOString()
  const words = { part: '', caption: '', credit: '', licence: 'CC-BY-4.0', taken_on: null }
  const file = { file: '0'.repeat(32), sha256: '0'.repeat(64), width: 100, height: 100, bytes: 1, original_bytes: 1 }
  return db.run(db.sql.insertInto('photo').values({ ...words, ...file, created_at: at, updated_at: at, ...row })).id
}

/** Of a fibre of its own, for a maker keeps one a fibre. */
function makeDensity(db: Db, owner_id: number): number {
  const fibre = `fibre ${String(db.raw.prepare('select count(*) from fibre_density').pluck().get())}`
  const said = { low: '1.3', high: null, source: 'weighed', on_day: '2026-11-20' }
  const at = NOW.toISOString()
  return db.run(db.sql.insertInto('fibre_density').values({ owner_id, fibre, ...said, created_at: at, updated_at: at }))
    .id
}
