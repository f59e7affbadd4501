import type { Generated } from 'kysely'

/** One step at the loom; written once. */
export interface LoomStepRow {
  id: Generated<number>
  /** 32 hex digits, made by the device: a step that is sent twice is one step. */
  uid: string
  piece_id: number
  /** By which it was woven; null where that is gone. */
  draft_revision_id: number | null
  /** Null while the notebook has one lone maker, and of steps from an archive. */
  member_id: number | null
  /** 32 hex digits, made by the browser. */
  device: string
  /** Counts up per device; two tabs of one browser may count the same number. */
  seq: number
  kind: string
  /** Picks of the piece that are woven after this step, from its beginning and over all repeats. */
  place: number
  /** Instant, reckoned onto the clock of the server. */
  at: string
  /** The same as the clock of the device said. */
  device_at: string
  /** IANA zone of the device. */
  zone: string
  received_at: string
  note: string
}
