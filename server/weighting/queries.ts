import type { Selectable } from 'kysely'
import { ASPECTS, type Aspect } from '../../shared/fidelity/aspect.ts'
import type { Weights } from '../../shared/fidelity/total.ts'
import { toBin } from '../bin/queries.ts'
import { requireUnchanged } from '../conflict/stale.ts'
import type { WeightingRow } from '../db/fidelity-tables.ts'
import type { Db } from '../db/open.ts'
import { readable } from '../rights/readable.ts'
import { currentMemberId } from '../rights/viewer.ts'
import type { WeightingForm } from './form.ts'

/** How much each aspect counts to somebody, under a name. */
export interface Weighting extends WeightingForm {
  readonly id: number
}

const rows = (db: Db) => db.sql.selectFrom('weighting').selectAll().where(readable('weighting'))

export function findWeighting(db: Db, id: number): Weighting | undefined {
  const row = db.first(rows(db).where('id', '=', id))
  return row && toWeighting(row)
}

/** Every one that the viewer may see, by name. */
export const listWeightings = (db: Db): Weighting[] => db.all(rows(db).orderBy('name').orderBy('id')).map(toWeighting)

export function insertWeighting(db: Db, form: WeightingForm, at: string): number {
  const row = { ...toRow(form), owner_id: currentMemberId(), created_at: at, updated_at: at }
  return db.run(db.sql.insertInto('weighting').values(row)).id
}

/** @returns false when there is no such weighting */
export function updateWeighting(db: Db, id: number, form: WeightingForm, at: string): boolean {
  requireUnchanged(db, 'weighting', id)
  const set = { ...toRow(form), updated_at: at }
  const query = db.sql.updateTable('weighting').set((e) => ({ ...set, version: e('version', '+', 1) }))
  return db.run(query.where('id', '=', id)).changes === 1
}

export const deleteWeighting = (db: Db, id: number, at: string): boolean => toBin(db, 'weighting', id, at)

const toRow = ({ name, weights, notes }: WeightingForm) => ({ name, notes, weights: JSON.stringify(weights) })

/** An aspect that the program did not know when the weights were given counts nothing. */
function toWeighting({ id, name, weights, notes }: Selectable<WeightingRow>): Weighting {
  const kept = JSON.parse(weights) as Partial<Weights>
  const all = Object.fromEntries(ASPECTS.map((aspect) => [aspect, kept[aspect] ?? 0])) as Record<Aspect, number>
  return { id, name, notes, weights: all }
}
