import { balanceOf, planMovement, type MovementKind } from '../../shared/yarn/ledger.ts'
import type { Db } from '../../server/db/open.ts'
import { insertMovement, listMovements } from '../../server/yarn/ledger-queries.ts'
import type { LotForm } from '../../server/yarn/lot-form.ts'
import { insertLot, insertYarn } from '../../server/yarn/queries.ts'
import type { YarnForm } from '../../server/yarn/yarn-form.ts'

const AT = '2026-11-24T12:00:00.000Z'

const YARN: YarnForm = {
  ...{ name: 'Fen wool', blend: 'wool', count: 'Nm 28/2', countReading: '', build: 'Z2S', notes: '' },
  ...{ wrapsPerCm: undefined, diameterMm: undefined, supplier: 'The mill at Oss' },
}

const LOT: LotForm = {
  ...{ colourName: 'madder red', colourHex: '#9c3b2e', colourLab: '', dye: 'madder', mordant: 'alum', recipe: '' },
  ...{ dyedBy: '', dyedOn: undefined, lotNumber: '7', supplier: 'The dyer at Ran', notes: '' },
  price: { minor: 1250, currency: 'EUR', for: '100g' },
}

/** A yarn with what a test says of it; its id. */
export const makeYarn = (db: Db, yarn: Partial<YarnForm> = {}): number => insertYarn(db, { ...YARN, ...yarn }, AT)

/** A lot with what a test says of it; its id. */
export const makeLot = (db: Db, yarnId = makeYarn(db), lot: Partial<LotForm> = {}): number =>
  insertLot(db, yarnId, { ...LOT, ...lot }, AT)

/** Enters a movement as the form would, questions answered with yes. @returns what is on hand then, mg */
export function move(db: Db, lotId: number, kind: Exclude<MovementKind, 'correction'>, mg: number, pieceId?: number) {
  const planned = planMovement(kind, mg, listMovements(db, lotId), pieceId)
  if (!planned.ok) throw new Error(planned.message)
  const entry = { lotId, kind, day: '2026-11-20', pieceId, note: '', acceptedBelow: planned.question !== '' }
  insertMovement(db, { ...planned.change, ...entry }, AT)
  return balanceOf(listMovements(db, lotId)).onHandMg
}
