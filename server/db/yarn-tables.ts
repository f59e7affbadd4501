import type { Generated } from 'kysely'
import type { OwnedColumns } from './tables.ts'

/** What a yarn is, whatever its colour. */
export interface YarnRow extends OwnedColumns {
  id: Generated<number>
  name: string
  /** Shares in percent of mass, `wool 80, silk 20`; empty when not known. */
  blend: string
  /** As typed; empty when not known. */
  count: string
  /** Which of several readings of the count is meant, by its key; empty where there is only one. */
  count_reading: string
  /** `Z2S`; empty when not known. */
  build: string
  /** Measured, decimals as typed. */
  wraps_per_cm: string | null
  diameter_mm: string | null
  supplier: string
  notes: string
  demo: Generated<0 | 1>
  created_at: string
  updated_at: string
}

/** One batch of a yarn, of one colour. */
export interface LotRow {
  id: Generated<number>
  uid: Generated<string>
  yarn_id: number
  colour_name: string
  /** `#rrggbb`; empty when not known. */
  colour_hex: string
  /** `L a b` as typed, where it was measured; empty otherwise. */
  colour_lab: string
  dye: string
  mordant: string
  recipe: string
  dyed_by: string
  dyed_on: string | null
  lot_number: string
  supplier: string
  /** In the smallest unit of its currency. */
  price_minor: number | null
  price_currency: string
  price_for: string
  notes: string
  version: Generated<number>
  deleted_at: Generated<string | null>
  created_at: string
  updated_at: string
}

/** One entry of a lot's ledger; written once. */
export interface MovementRow {
  id: Generated<number>
  uid: Generated<string>
  lot_id: number
  kind: string
  on_day: string
  /** What it adds to the mass on hand, whole milligrams; less than 0 for what goes. */
  mass_mg: number
  /** What it adds to the mass reserved. */
  reserved_mg: number
  /** What the ledger or the reservation said, where the entry holds it against what was found. */
  expected_mg: number | null
  found_mg: number | null
  piece_id: number | null
  /** Where dyed yarn came from, or went. */
  other_lot_id: number | null
  corrects_id: number | null
  /** Whether somebody was asked, and said that it is so, though less was there by the ledger. */
  accepted_below: 0 | 1
  note: string
  created_at: string
}

/** Density of a fibre that a maker keeps in the place of the built-in one, or beside it; one a fibre. */
export interface FibreDensityRow {
  id: Generated<number>
  uid: Generated<string>
  /** Null while the notebook has one lone maker and no members. */
  owner_id: Generated<number | null>
  /** As blends name it. */
  fibre: string
  /** g/cm³, decimals as typed. */
  low: string
  /** Upper end of the range; null where one value is given. */
  high: string | null
  source: string
  on_day: string
  version: Generated<number>
  created_at: string
  updated_at: string
}
