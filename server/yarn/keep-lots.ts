import type { Db } from '../db/open.ts'
import { viewerMayOwn } from '../rights/allowed.ts'
import { insertMovement } from './ledger-queries.ts'
import { insertLot, insertYarn, listYarns } from './queries.ts'
import type { TableLot } from './table.ts'
import type { YarnForm } from './yarn-form.ts'

/** What makes two rows be of the same yarn: everything that is said of the yarn itself. */
const keyOf = (yarn: YarnForm): string =>
  JSON.stringify([
    ...[yarn.name, yarn.blend, yarn.count, yarn.countReading, yarn.build, yarn.wrapsPerCm ?? '', yarn.diameterMm ?? ''],
    ...[yarn.supplier, yarn.notes],
  ])

/**
 * Puts the lots of a table on the shelf, all or nothing. A yarn of the viewer's own that is exactly as the table says is
 * not made a second time. What is on hand comes into each ledger as bought.
 */
export function keepLots(db: Db, lots: readonly TableLot[], day: string, at: string): void {
  db.write(() => {
    const yarns = new Map(
      listYarns(db)
        .filter(({ id }) => viewerMayOwn(db, 'yarn', id))
        .map((yarn) => [keyOf(yarn), yarn.id]),
    )
    for (const { yarn, lot, onHandMg } of lots) {
      const yarnId = yarns.get(keyOf(yarn)) ?? insertYarn(db, yarn, at)
      yarns.set(keyOf(yarn), yarnId)
      const lotId = insertLot(db, yarnId, lot, at)
      if (onHandMg === 0) continue
      const entry = {
        lotId,
        kind: 'bought' as const,
        day,
        pieceId: undefined,
        note: 'From a table',
        acceptedBelow: false,
      }
      insertMovement(db, { ...entry, massMg: onHandMg, reservedMg: 0, expectedMg: undefined, foundMg: undefined }, at)
    }
  })
}
