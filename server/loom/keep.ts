import { randomBytes } from 'node:crypto'
import { reckon } from '../../shared/loom/clock.ts'
import type { KeptStep } from '../../shared/loom/queue.ts'
import type { Db } from '../db/open.ts'
import { findRevisionById } from '../draft/revision-queries.ts'
import { currentMemberId } from '../rights/viewer.ts'
import type { TypedStep } from './form.ts'
import { findDeviceStepAt, insertLoomSteps } from './queries.ts'

interface Sent {
  readonly device: string
  /** What the device's clock said when they were sent; null where nobody knows. */
  readonly sentAt: string | null
  readonly steps: readonly KeptStep[]
}

/** Keeps what a device sent, on the server's clock. @returns how many are new */
export function keepSentSteps(db: Db, pieceId: number, { device, sentAt, steps }: Sent, now: Date): number {
  const inOrder = steps.toSorted((left, right) => left.seq - right.seq || (left.uid < right.uid ? -1 : 1))
  const [first] = inOrder
  if (first === undefined) return 0
  const revisions = new Map<number, number | undefined>()
  const revisionOf = (id: number | null) => {
    if (id === null) return undefined
    // One that is gone, or is not for this maker to see, does not stop a step from being kept.
    if (!revisions.has(id)) revisions.set(id, findRevisionById(db, id)?.id)
    return revisions.get(id)
  }
  return db.write(() => {
    const floor = findDeviceStepAt(db, pieceId, device, first.seq)
    const clocked = inOrder.map(({ seq, deviceAt, after }) => ({
      ...{ seq, deviceMs: Date.parse(deviceAt) },
      afterMs: after === null ? undefined : Math.min(Date.parse(after), now.getTime()),
    }))
    const sentMs = sentAt === null ? undefined : Date.parse(sentAt)
    const instants = reckon(clocked, sentMs, now.getTime(), floor === undefined ? undefined : Date.parse(floor))
    const memberId = currentMemberId() ?? undefined
    const rows = inOrder.map(({ uid, seq, kind, place, deviceAt, zone, revision, note }, at) => ({
      ...{ uid, device, seq, kind, place, deviceAt, zone, note, memberId },
      ...{ draftRevisionId: revisionOf(revision), at: new Date(instants[at]!).toISOString() },
    }))
    return insertLoomSteps(db, pieceId, rows, now.toISOString())
  })
}

/** The device of pages without script, which can keep nothing in the browser. */
export const NO_SCRIPT_DEVICE = '0'.repeat(32)

/** Keeps a step by a button of the page, at this moment. */
export function keepTypedStep(
  db: Db,
  piece: { readonly id: number; readonly draftRevisionId: number | undefined },
  step: TypedStep,
  { now, zone }: { readonly now: Date; readonly zone: string },
): void {
  db.write(() => {
    const deviceAt = now.toISOString()
    const uid = randomBytes(16).toString('hex')
    const kept = { ...step, uid, deviceAt, zone, seq: nextSeq(db, piece.id), revision: piece.draftRevisionId ?? null }
    keepSentSteps(db, piece.id, { device: NO_SCRIPT_DEVICE, sentAt: null, steps: [{ ...kept, after: null }] }, now)
  })
}

function nextSeq(db: Db, pieceId: number): number {
  const query = db.sql.selectFrom('loom_step').select((e) => e.fn.max('seq').as('seq'))
  return (db.first(query.where('piece_id', '=', pieceId).where('device', '=', NO_SCRIPT_DEVICE))?.seq ?? 0) + 1
}
