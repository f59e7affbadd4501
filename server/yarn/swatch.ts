import { gramsText, type Balance } from '../../shared/yarn/ledger.ts'
import type { ShelfLot } from './queries.ts'

/** A lot as a line of a list shows it. */
export interface LotLine {
  readonly path: string
  readonly name: string
  readonly yarnName: string
  readonly yarnPath: string
  /** Empty when the colour is not known. */
  readonly hex: string
  readonly onHand: string
  readonly reserved: string
  readonly free: string
  /** Whether more is promised or gone than is there. */
  readonly isShort: boolean
  readonly about: string
}

export const toLotLine = (lot: ShelfLot): LotLine => ({
  ...{ path: `/lots/${lot.id}`, name: lot.colourName, yarnName: lot.yarn.name, yarnPath: `/yarns/${lot.yarnId}` },
  ...{ hex: lot.hex, ...balanceText(lot) },
  isShort: lot.onHandMg < 0 || lot.freeMg < 0,
  about: [lot.dye, lot.mordant && `on ${lot.mordant}`, lot.lotNumber && `lot ${lot.lotNumber}`]
    .filter(Boolean)
    .join(', '),
})

/** In grams, without the unit: a column or a label has it. */
export const balanceText = ({ onHandMg, reservedMg, freeMg }: Balance) => ({
  ...{ onHand: gramsText(onHandMg), reserved: gramsText(reservedMg), free: gramsText(freeMg) },
})

/** `Fen wool, madder red`, for a list one chooses from. */
export const lotLabel = (lot: ShelfLot): string =>
  [lot.yarn.name, lot.colourName, lot.lotNumber && `lot ${lot.lotNumber}`].filter(Boolean).join(', ')
