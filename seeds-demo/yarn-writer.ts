import { insertMovement, listMovements } from '../server/yarn/ledger-queries.ts'
import { readLotForm } from '../server/yarn/lot-form.ts'
import { readMovementForm } from '../server/yarn/movement-form.ts'
import { insertLot, insertYarn } from '../server/yarn/queries.ts'
import { readYarnForm } from '../server/yarn/yarn-form.ts'
import type { Db } from '../server/db/open.ts'
import { accept } from './accept.ts'
import type { LotMovement, Yarn } from './type.ts'

/** Later than every day of the collection. */
const LATEST = '9999-12-30'

/** @returns the ids of the lots by their keys */
export function writeYarns(db: Db, yarns: readonly Yarn[], at: string): ReadonlyMap<string, number> {
  const lotIds = new Map<string, number>()
  for (const { lots, ...yarn } of yarns) {
    const yarnId = insertYarn(db, accept(`yarn ${yarn.name}`, readYarnForm(yarn)), at, 1)
    for (const { key, price = '', ...lot } of lots) {
      const paid = price === '' ? { priceFor: '' } : { price, priceCurrency: 'EUR', priceFor: '100g' }
      const form = readLotForm({ ...lot, ...paid }, LATEST)
      lotIds.set(key, insertLot(db, yarnId, accept(`lot ${key}`, form), at))
    }
  }
  return lotIds
}

interface Ids {
  readonly lotIds: ReadonlyMap<string, number>
  readonly pieceIds: ReadonlyMap<string, number>
}

/** The ledgers of all lots, day by day, as they would have been entered. */
export function writeLedgers(db: Db, yarns: readonly Yarn[], { lotIds, pieceIds }: Ids, at: string): void {
  const all = yarns.flatMap(({ lots }) =>
    lots.flatMap(({ key, movements }) => movements.map((one) => ({ key, ...one }))),
  )
  for (const { key, ...movement } of all.toSorted((left, right) =>
    left.day < right.day ? -1 : Number(left.day > right.day),
  ))
    writeMovement(db, lotIds.get(key) ?? 0, movement, { lotIds, pieceIds }, at)
}

function writeMovement(db: Db, lotId: number, movement: LotMovement, { lotIds, pieceIds }: Ids, at: string): void {
  const { piece, into, ...typed } = movement
  const body = {
    ...typed,
    piece: String(pieceIds.get(piece ?? '') ?? ''),
    otherLot: String(lotIds.get(into ?? '') ?? ''),
  }
  const choices = { today: LATEST, lotId, entries: listMovements(db, lotId) }
  const form = readMovementForm(body, {
    ...{ ...choices, pieceIds: [...pieceIds.values()], otherLotIds: [...lotIds.values()] },
  })
  for (const entry of accept(`movement ${JSON.stringify(movement)}`, form.ok ? { ...form, value: form.entries } : form))
    insertMovement(db, entry, at)
}
