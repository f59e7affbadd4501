import type { Generated } from 'kysely'

/** What a piece is to be woven with; every field as it was typed. */
export interface PlanRow {
  id: Generated<number>
  uid: Generated<string>
  piece_id: number
  woven_by: string
  woven_cm: string
  repeats: string
  picks_per_cm: string
  width_mm: string
  take_up_by: string
  take_up_percent: string
  take_up_of: string
  waste_cm: string
  sample_cm: string
  fringe_cm: string
  shrink_percent: string
  weft_strands: string
  weft_passes: string
  weft_allowance: string
  winder: string
  winder_turn_cm: string
  winder_arms: string
  winder_spacing_cm: string
  fibre: string
  spun: string
  twist_limit: string
  block_picks: string
  borders: string
  reversals: string
  wound_cm: string
  left_cm: string
  measured_cm: string
  stopped_pick: string
  version: Generated<number>
  created_at: string
  updated_at: string
}

/** The yarn of one colour of the warp, or of the weft: a lot, a kind of yarn, or only a count. */
export interface PlanYarnRow {
  id: Generated<number>
  uid: Generated<string>
  plan_id: number
  position: number
  part: 'warp' | 'weft'
  /** Empty for the weft. */
  colour_key: string
  lot_id: number | null
  yarn_id: number | null
  /** As typed; empty where a lot or a yarn is chosen. */
  count: string
}

/** Tablets that somebody has ticked as threaded; nobody else sees them. */
export interface ThreadingTickRow {
  id: Generated<number>
  piece_id: number
  /** Null while the notebook has one lone maker. */
  member_id: number | null
  /** Ticks are about the tablets of this one. */
  draft_revision_id: number
  /** JSON: list of numbers of tablets, counted from the left, from 1. */
  tablets: string
  saved_at: string
}
