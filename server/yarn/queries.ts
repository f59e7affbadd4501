import { sql, type Selectable } from 'kysely'
import { hexOfLab, labOfHex, type Lab } from '../../shared/colour/lab.ts'
import type { CountReading } from '../../shared/yarn/count-reading.ts'
import type { BlendPart } from '../../shared/yarn/fibre.ts'
import type { Balance } from '../../shared/yarn/ledger.ts'
import { densityOfBlend, type Density, type FibreDensity } from '../../shared/yarn/density.ts'
import { readBlend } from '../../shared/yarn/lot-blend.ts'
import { readLab } from '../../shared/yarn/lot-colour.ts'
import { toBin } from '../bin/queries.ts'
import { requireUnchanged } from '../conflict/stale.ts'
import type { Db } from '../db/open.ts'
import type { LotRow, YarnRow } from '../db/yarn-tables.ts'
import { listViewerDensities } from '../fibre/queries.ts'
import { isOwn, readable } from '../rights/readable.ts'
import { currentMemberId } from '../rights/viewer.ts'
import type { LotForm } from './lot-form.ts'
import { readingOf } from './reading.ts'
import type { YarnForm } from './yarn-form.ts'

/** What a yarn is, whatever its colour. The supplier is empty for whoever is not its owner. */
export interface Yarn extends YarnForm {
  readonly id: number
  readonly parts: readonly BlendPart[]
  /** Of its fibre, as the viewer goes by it; undefined where the blend is not known, or a fibre of it is in no table. */
  readonly density: Density | undefined
  /** What its count says; undefined when it is not known. */
  readonly reading: CountReading | undefined
  readonly demo: boolean
}

/** A batch of one yarn. Supplier and price are empty for whoever is not its owner. */
export interface Lot extends Omit<LotForm, 'price'> {
  readonly id: number
  readonly yarnId: number
  /** As a screen shows it, also where only CIELAB is known; empty when the colour is not. */
  readonly hex: string
  /** As measured, or as reckoned from the screen colour. */
  readonly lab: Lab | undefined
  /** For whoever is not its owner, undefined. */
  readonly price: LotForm['price']
}

/** A lot with its yarn and what the ledger says of it. */
export interface ShelfLot extends Lot, Balance {
  readonly yarn: Yarn
}

/** Of rows `y` of the table of yarns. */
const forOwner = <T>(column: string, otherwise: T) =>
  sql<T>`case when ${isOwn('yarn', 'y')} then ${sql.ref(column)} else ${otherwise} end`

export function findYarn(db: Db, id: number): Yarn | undefined {
  const row = db.first(yarnRows(db).where('y.id', '=', id))
  return row && toYarn(row, listViewerDensities(db))
}

/** Every yarn by its name. */
export function listYarns(db: Db): Yarn[] {
  const densities = listViewerDensities(db)
  return db.all(yarnRows(db).orderBy('y.name').orderBy('y.id')).map((row) => toYarn(row, densities))
}

function yarnRows(db: Db) {
  return db.sql
    .selectFrom('yarn as y')
    .selectAll('y')
    .select(forOwner('y.supplier', '').as('supplier'))
    .where(readable('yarn', 'y'))
}

/** Every lot that the viewer may see, with mass on hand and reserved; those of one yarn where one is named. */
export function listLots(db: Db, yarnId?: number): ShelfLot[] {
  return toShelf(db, yarnId === undefined ? lotRows(db) : lotRows(db).where('l.yarn_id', '=', yarnId))
}

export const findLot = (db: Db, id: number): ShelfLot | undefined => toShelf(db, lotRows(db).where('l.id', '=', id))[0]

function lotRows(db: Db) {
  return db.sql
    .selectFrom('lot as l')
    .innerJoin('yarn as y', 'y.id', 'l.yarn_id')
    .selectAll('l')
    .select((e) => [
      forOwner('l.supplier', '').as('supplier'),
      forOwner<number | null>('l.price_minor', null).as('price_minor'),
      forOwner('l.price_currency', '').as('price_currency'),
      forOwner('l.price_for', '').as('price_for'),
      e
        .selectFrom('movement as m')
        .select((m) => m.fn.coalesce(m.fn.sum<number>('m.mass_mg'), sql<number>`0`).as('on_hand'))
        .whereRef('m.lot_id', '=', 'l.id')
        .as('on_hand'),
      e
        .selectFrom('movement as m')
        .select((m) => m.fn.coalesce(m.fn.sum<number>('m.reserved_mg'), sql<number>`0`).as('reserved'))
        .whereRef('m.lot_id', '=', 'l.id')
        .as('reserved'),
    ])
    .where('l.deleted_at', 'is', null)
    .where(readable('yarn', 'y'))
}

function toShelf(db: Db, query: ReturnType<typeof lotRows>): ShelfLot[] {
  const rows = db.all(query.orderBy('y.name').orderBy('l.colour_name').orderBy('l.id'))
  const yarns = new Map(rows.length === 0 ? [] : listYarns(db).map((yarn) => [yarn.id, yarn]))
  return rows.flatMap((row) => {
    const yarn = yarns.get(row.yarn_id)
    const [onHandMg, reservedMg] = [row.on_hand ?? 0, row.reserved ?? 0]
    return yarn ? [{ ...toLot(row), yarn, onHandMg, reservedMg, freeMg: onHandMg - reservedMg }] : []
  })
}

export function insertYarn(db: Db, form: YarnForm, at: string, demo: 0 | 1 = 0): number {
  const row = { ...toYarnRow(form), demo, owner_id: currentMemberId(), created_at: at, updated_at: at }
  return db.run(db.sql.insertInto('yarn').values(row)).id
}

/** @returns false when there is no such yarn */
export function updateYarn(db: Db, id: number, form: YarnForm, at: string): boolean {
  return db.write(() => {
    requireUnchanged(db, 'yarn', id)
    const set = { ...toYarnRow(form), updated_at: at }
    const query = db.sql.updateTable('yarn').set((e) => ({ ...set, version: e('version', '+', 1) }))
    return db.run(query.where('id', '=', id)).changes === 1
  })
}

export function insertLot(db: Db, yarnId: number, form: LotForm, at: string): number {
  const row = { ...toLotRow(form), yarn_id: yarnId, created_at: at, updated_at: at }
  return db.run(db.sql.insertInto('lot').values(row)).id
}

/** @returns false when there is no such lot */
export function updateLot(db: Db, id: number, form: LotForm, at: string): boolean {
  return db.write(() => {
    requireUnchanged(db, 'lot', id)
    const set = { ...toLotRow(form), updated_at: at }
    const query = db.sql.updateTable('lot').set((e) => ({ ...set, version: e('version', '+', 1) }))
    return db.run(query.where('id', '=', id)).changes === 1
  })
}

/** Puts a yarn in the bin with its lots. @returns false when it is not there */
export const deleteYarn = (db: Db, id: number, at: string): boolean => toBin(db, 'yarn', id, at)

/** Puts a lot in the bin with its ledger. @returns false when it is not there */
export const deleteLot = (db: Db, id: number, at: string): boolean => toBin(db, 'lot', id, at)

const toYarnRow = ({ name, blend, count, countReading, build, wrapsPerCm, diameterMm, supplier, notes }: YarnForm) => ({
  ...{ name, blend, count, build, supplier, notes, count_reading: countReading },
  ...{ wraps_per_cm: wrapsPerCm ?? null, diameter_mm: diameterMm ?? null },
})

function toLotRow(form: LotForm) {
  const { dye, mordant, recipe, supplier, notes, price } = form
  return {
    ...{ dye, mordant, recipe, supplier, notes, colour_name: form.colourName, colour_hex: form.colourHex },
    ...{ colour_lab: form.colourLab, dyed_by: form.dyedBy, dyed_on: form.dyedOn ?? null, lot_number: form.lotNumber },
    ...{ price_minor: price?.minor ?? null, price_currency: price?.currency ?? '', price_for: price?.for ?? '' },
  }
}

function toYarn(row: Selectable<YarnRow>, densities: readonly FibreDensity[]): Yarn {
  const { id, name, blend, count, build, supplier, notes } = row
  const read = readBlend(blend)
  const parts = read.ok ? read.parts : []
  return {
    ...{ id, name, blend, count, build, supplier, notes, countReading: row.count_reading },
    ...{ wrapsPerCm: row.wraps_per_cm ?? undefined, diameterMm: row.diameter_mm ?? undefined },
    ...{ parts, density: densityOfBlend(parts, densities), reading: readingOf(count, row.count_reading) },
    demo: row.demo === 1,
  }
}

function toLot(row: Selectable<LotRow>): Lot {
  const { id, dye, mordant, recipe, supplier, notes, colour_hex: colourHex, colour_lab: colourLab } = row
  const measured = colourLab === '' ? undefined : readLab(colourLab)
  const lab = measured?.ok ? measured.lab : colourHex === '' ? undefined : labOfHex(colourHex)
  const { price_minor: minor, price_currency: currency } = row
  return {
    ...{ id, yarnId: row.yarn_id, dye, mordant, recipe, supplier, notes, colourHex, colourLab, lab },
    ...{
      colourName: row.colour_name,
      dyedBy: row.dyed_by,
      dyedOn: row.dyed_on ?? undefined,
      lotNumber: row.lot_number,
    },
    hex: colourHex || (lab ? hexOfLab(lab) : ''),
    price: minor === null ? undefined : { minor, currency, for: row.price_for as NonNullable<LotForm['price']>['for'] },
  }
}
