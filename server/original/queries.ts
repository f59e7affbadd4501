import type { Selectable } from 'kysely'
import { toBin } from '../bin/queries.ts'
import { requireUnchanged } from '../conflict/stale.ts'
import type { Db } from '../db/open.ts'
import type { OriginalRow } from '../db/tables.ts'
import { hiddenName } from '../rights/allowed.ts'
import { readable } from '../rights/readable.ts'
import { currentMemberId } from '../rights/viewer.ts'
import { toPhrase } from './dating.ts'
import type { OriginalForm } from './form.ts'

export interface Original {
  readonly id: number
  readonly name: string
  /** One a line. */
  readonly otherNames: string
  readonly holder: string
  readonly inventoryNumber: string
  readonly findPlace: string
  readonly findContext: string
  /** EDTF as typed, and in English; both empty without a date. */
  readonly date: string
  readonly datePhrase: string
  /** Astronomical years, null without a date or where an end is open. */
  readonly earliestYear: number | null
  readonly latestYear: number | null
  readonly technique: string
  readonly preservation: string
  readonly notes: string
  readonly demo: boolean
}

export function findOriginal(db: Db, id: number): Original | undefined {
  const row = db.first(db.sql.selectFrom('original').selectAll().where('id', '=', id).where(readable('original')))
  return row && toOriginal(row)
}

/**
 * Every original by its name, for the list one chooses from.
 * @param keptId of the one chosen already: it stays a choice when the viewer may not see it, so that saving loses nothing
 */
export function listOriginalChoices(db: Db, keptId?: number): { id: number; name: string; inventoryNumber: string }[] {
  const choices = db.all(
    db.sql
      .selectFrom('original')
      .select(['id', 'name', 'inventory_number as inventoryNumber'])
      .where(readable('original'))
      .orderBy('name')
      .orderBy('id'),
  )
  if (keptId === undefined || choices.some(({ id }) => id === keptId)) return choices
  return [...choices, { id: keptId, name: hiddenName('original'), inventoryNumber: '' }]
}

export function insertOriginal(db: Db, form: OriginalForm, at: string, demo: 0 | 1 = 0): number {
  return db.run(
    db.sql
      .insertInto('original')
      .values({ ...toRow(form), demo, owner_id: currentMemberId(), created_at: at, updated_at: at }),
  ).id
}

/** @returns false when there is no such original */
export function updateOriginal(db: Db, id: number, form: OriginalForm, at: string): boolean {
  requireUnchanged(db, 'original', id)
  return (
    db.run(
      db.sql
        .updateTable('original')
        .set((e) => ({ ...toRow(form), updated_at: at, version: e('version', '+', 1) }))
        .where('id', '=', id),
    ).changes === 1
  )
}

/** An original that pieces were woven from stays. Its claims go with it; drafts of it stay, of no original then. */
export function deleteOriginal(
  db: Db,
  id: number,
  at: string,
): { outcome: 'deleted' | 'absent' } | { outcome: 'woven'; pieces: number } {
  return db.write(() => {
    const { pieces } = db.first(
      db.sql
        .selectFrom('piece')
        .select((e) => e.fn.countAll<number>().as('pieces'))
        .where('original_id', '=', id)
        .where('deleted_at', 'is', null),
    ) ?? { pieces: 0 }
    if (pieces > 0) return { outcome: 'woven', pieces } as const
    return { outcome: toBin(db, 'original', id, at) ? 'deleted' : 'absent' } as const
  })
}

/** Drafts of an original, with the size and number of their newest revision; null before the first. */
export function listDraftsOf(
  db: Db,
  originalId: number,
): {
  id: number
  title: string
  convention: string
  revision: number | null
  tablets: number | null
  picks: number | null
}[] {
  return db.all(
    db.sql
      .selectFrom('draft')
      .leftJoin('draft_revision', (join) =>
        join.onRef('draft_revision.draft_id', '=', 'draft.id').on('draft_revision.number', '=', (e) =>
          e
            .selectFrom('draft_revision as newest')
            .select((n) => n.fn.max('newest.number').as('number'))
            .whereRef('newest.draft_id', '=', 'draft.id'),
        ),
      )
      .select([
        'draft.id',
        'draft.title',
        'draft.convention',
        'draft_revision.number as revision',
        'draft_revision.tablets',
        'draft_revision.picks',
      ])
      .where('draft.original_id', '=', originalId)
      .where(readable('draft'))
      .orderBy('draft.title')
      .orderBy('draft.id'),
  )
}

/** Where a piece stands and since when, by the dates that are filled in. */
export interface WovenPiece {
  readonly id: number
  readonly name: string
  readonly maker: string
  readonly plannedOn: string | null
  readonly onLoomOn: string | null
  readonly wovenOn: string | null
  readonly finishedOn: string | null
  readonly setAsideOn: string | null
}

export function listPiecesOf(db: Db, originalId: number): WovenPiece[] {
  return db.all(
    db.sql
      .selectFrom('piece')
      .select([
        'id',
        'name',
        'maker',
        'planned_on as plannedOn',
        'on_loom_on as onLoomOn',
        'woven_on as wovenOn',
        'finished_on as finishedOn',
        'set_aside_on as setAsideOn',
      ])
      .where('original_id', '=', originalId)
      .where(readable('piece'))
      .orderBy('name')
      .orderBy('id'),
  )
}

function toRow(form: OriginalForm) {
  return {
    name: form.name,
    other_names: form.otherNames
      .split('\n')
      .map((name) => name.trim())
      .filter((name) => name !== '')
      .join('\n'),
    holder: form.holder,
    inventory_number: form.inventoryNumber,
    find_place: form.findPlace,
    find_context: form.findContext,
    date_edtf: form.date?.edtf ?? '',
    earliest_year: form.date?.earliestYear ?? null,
    latest_year: form.date?.latestYear ?? null,
    technique: form.technique,
    preservation: form.preservation,
    notes: form.notes,
  }
}

function toOriginal(row: Selectable<OriginalRow>): Original {
  return {
    id: row.id,
    name: row.name,
    otherNames: row.other_names,
    holder: row.holder,
    inventoryNumber: row.inventory_number,
    findPlace: row.find_place,
    findContext: row.find_context,
    date: row.date_edtf,
    datePhrase: toPhrase(row.date_edtf),
    earliestYear: row.earliest_year,
    latestYear: row.latest_year,
    technique: row.technique,
    preservation: row.preservation,
    notes: row.notes,
    demo: row.demo === 1,
  }
}
