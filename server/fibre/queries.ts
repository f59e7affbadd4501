import type { Selectable } from 'kysely'
import { listDensities, type FibreDensity } from '../../shared/yarn/density.ts'
import { requireUnchanged } from '../conflict/stale.ts'
import type { Db } from '../db/open.ts'
import type { FibreDensityRow } from '../db/yarn-tables.ts'
import { currentMemberId, currentViewer } from '../rights/viewer.ts'
import type { DensityForm } from './form.ts'

/** A density that a maker keeps in the place of the built-in one. */
export interface OwnDensity extends DensityForm {
  readonly id: number
}

/** What the viewer goes by; the built-in ones alone for somebody who has not signed in. */
export const listViewerDensities = (db: Db): FibreDensity[] =>
  currentViewer().kind === 'anonymous' ? listDensities([]) : listDensitiesOf(db, currentMemberId())

/** What a maker goes by, whoever asks: the figures of a shared plan rest on the densities of whose piece it is. */
export function listDensitiesOf(db: Db, ownerId: number | null): FibreDensity[] {
  const own = listOwned(db, ownerId).map(({ fibre, low, high, source, onDay }) => ({
    ...{ fibre, low: Number(low), high: Number(high ?? low) },
    source: `${source}; ${onDay}`,
  }))
  return listDensities(own)
}

/** Those that the viewer keeps, by the fibre. */
export const listOwnDensities = (db: Db): OwnDensity[] =>
  currentViewer().kind === 'anonymous' ? [] : listOwned(db, currentMemberId())

function listOwned(db: Db, ownerId: number | null): OwnDensity[] {
  const rows = db.sql.selectFrom('fibre_density').selectAll().where('owner_id', 'is', ownerId)
  return db.all(rows.orderBy('fibre')).map(toOwn)
}

/** Whose it is, the guard has asked. */
export function findOwnDensity(db: Db, id: number): OwnDensity | undefined {
  const row = db.first(db.sql.selectFrom('fibre_density').selectAll().where('id', '=', id))
  return row && toOwn(row)
}

/** @returns 'taken' where the viewer keeps one for that fibre already */
export function insertDensity(db: Db, form: DensityForm, at: string): number | 'taken' {
  return db.write(() => {
    const ownerId = currentMemberId()
    if (findRival(db, ownerId, form.fibre) !== undefined) return 'taken'
    const row = { ...toRow(form), owner_id: ownerId, created_at: at, updated_at: at }
    return db.run(db.sql.insertInto('fibre_density').values(row)).id
  })
}

/** @returns 'taken' where its owner keeps another one for that fibre; 'absent' when it is gone */
export function updateDensity(db: Db, id: number, form: DensityForm, at: string): 'saved' | 'taken' | 'absent' {
  return db.write(() => {
    const row = db.first(db.sql.selectFrom('fibre_density').select('owner_id').where('id', '=', id))
    if (!row) return 'absent'
    requireUnchanged(db, 'fibre_density', id)
    const rival = findRival(db, row.owner_id, form.fibre)
    if (rival !== undefined && rival !== id) return 'taken'
    const set = { ...toRow(form), updated_at: at }
    const update = db.sql.updateTable('fibre_density').set((e) => ({ ...set, version: e('version', '+', 1) }))
    db.run(update.where('id', '=', id))
    return 'saved'
  })
}

/** Removes it, so that the built-in value counts again; the log keeps what it said. */
export const deleteDensity = (db: Db, id: number): boolean =>
  db.run(db.sql.deleteFrom('fibre_density').where('id', '=', id)).changes === 1

/** Gives what somebody keeps to another one, who has only one value a fibre: theirs stays, and that of the other goes. */
export function handOverDensities(db: Db, fromId: number | null, toId: number): void {
  const theirs = new Set(listOwned(db, toId).map(({ fibre }) => fibre))
  for (const { id, fibre } of listOwned(db, fromId)) {
    if (theirs.has(fibre)) deleteDensity(db, id)
    else db.run(db.sql.updateTable('fibre_density').set({ owner_id: toId }).where('id', '=', id))
  }
}

const findRival = (db: Db, ownerId: number | null, fibre: string): number | undefined =>
  db.first(db.sql.selectFrom('fibre_density').select('id').where('owner_id', 'is', ownerId).where('fibre', '=', fibre))
    ?.id

const toRow = ({ fibre, low, high, source, onDay }: DensityForm) => ({
  ...{ fibre, low, source, on_day: onDay },
  high: high ?? null,
})

const toOwn = ({ id, fibre, low, high, source, on_day: onDay }: Selectable<FibreDensityRow>): OwnDensity => ({
  ...{ id, fibre, low, source, onDay },
  high: high ?? undefined,
})
