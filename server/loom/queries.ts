import type { Selectable } from 'kysely'
import type { StepKind } from '../../shared/loom/step.ts'
import type { LoomStepRow } from '../db/loom-tables.ts'
import type { Db } from '../db/open.ts'

/** One step at the loom, as it is kept. Whose the piece is, is asked before. */
export interface LoomStep {
  readonly id: number
  readonly uid: string
  readonly pieceId: number
  /** Undefined where the revision is gone. */
  readonly draftRevisionId: number | undefined
  /** Undefined of the lone maker, and of steps from an archive. */
  readonly memberId: number | undefined
  readonly device: string
  readonly seq: number
  readonly kind: StepKind
  /** Picks of the piece that are woven after this step, from its beginning and over all repeats. */
  readonly place: number
  /** Instant on the server's clock, ISO in UTC with milliseconds. */
  readonly at: string
  /** The same as the clock of the device said. */
  readonly deviceAt: string
  readonly zone: string
  readonly receivedAt: string
  readonly note: string
}

/** Every step of a piece, whichever device kept it, in the order in which they happened. */
export function listLoomSteps(db: Db, pieceId: number): LoomStep[] {
  const query = db.sql.selectFrom('loom_step').selectAll().where('piece_id', '=', pieceId)
  return db.all(query.orderBy('at').orderBy('uid')).map(toLoomStep)
}

/** The latest steps of a piece, the latest first. */
export function listLatestSteps(db: Db, pieceId: number, most: number): LoomStep[] {
  const query = db.sql.selectFrom('loom_step').selectAll().where('piece_id', '=', pieceId)
  return db.all(query.orderBy('at', 'desc').orderBy('uid', 'desc').limit(most)).map(toLoomStep)
}

/** Where the work stands: the step with the latest instant, and of several within a millisecond the one with the last uid. */
export const findLatestStep = (db: Db, pieceId: number): LoomStep | undefined => listLatestSteps(db, pieceId, 1)[0]

/** Picks of the piece that are woven; 0 where no step was kept. */
export const placeOf = (db: Db, pieceId: number): number => findLatestStep(db, pieceId)?.place ?? 0

/** The instant of the last step of a device before the given one, on the server's clock. */
export function findDeviceStepAt(db: Db, pieceId: number, device: string, beforeSeq: number): string | undefined {
  const query = db.sql.selectFrom('loom_step').select((e) => e.fn.max('at').as('at'))
  return (
    db.first(query.where('piece_id', '=', pieceId).where('device', '=', device).where('seq', '<', beforeSeq))?.at ??
    undefined
  )
}

/** One step about to be kept, its instant reckoned onto the server's clock. */
export type NewLoomStep = Omit<LoomStep, 'id' | 'pieceId' | 'receivedAt'>

/** Keeps steps; one that is there already stays as it is. @returns how many are new */
export function insertLoomSteps(db: Db, pieceId: number, steps: readonly NewLoomStep[], receivedAt: string): number {
  return db.write(() =>
    steps.reduce((count, step) => {
      const { uid, device, seq, kind, place, at, deviceAt, zone, note } = step
      const row = {
        ...{ uid, device, seq, kind, place, at, zone, note, piece_id: pieceId, device_at: deviceAt },
        ...{ draft_revision_id: step.draftRevisionId ?? null, member_id: step.memberId ?? null },
        received_at: receivedAt,
      }
      const insert = db.sql.insertInto('loom_step').values(row)
      return count + db.run(insert.onConflict((on) => on.column('uid').doNothing())).changes
    }, 0),
  )
}

function toLoomStep(row: Selectable<LoomStepRow>): LoomStep {
  const { id, uid, device, seq, place, at, zone, note } = row
  return {
    ...{ id, uid, device, seq, place, at, zone, note, pieceId: row.piece_id, kind: row.kind as StepKind },
    ...{ draftRevisionId: row.draft_revision_id ?? undefined, memberId: row.member_id ?? undefined },
    ...{ deviceAt: row.device_at, receivedAt: row.received_at },
  }
}

/** The name of a piece in every notebook. @throws Error when there is no such piece */
export function findPieceUid(db: Db, pieceId: number): string {
  const row = db.first(db.sql.selectFrom('piece').select('uid').where('id', '=', pieceId))
  if (!row) throw new Error(`There is no piece ${pieceId}`)
  return row.uid
}
