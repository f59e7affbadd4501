import { insertLoomSteps, type NewLoomStep } from '../../server/loom/queries.ts'
import type { Db } from '../../server/db/open.ts'
import type { StepKind } from '../../shared/loom/step.ts'

let made = 0

/** Steps of a piece at the given instants; the place follows from the kind, from where the last ones left it. */
export function takeSteps(
  db: Db,
  pieceId: number,
  told: readonly (readonly [at: string, kind: StepKind])[],
  { zone = 'Europe/Berlin', place = 0 }: { readonly zone?: string; readonly place?: number } = {},
): void {
  let stands = place
  const steps = told.map(([at, kind]): NewLoomStep => {
    made += 1
    stands += kind === 'woven' ? 1 : kind === 'unwoven' || kind === 'back' ? -1 : 0
    const iso = new Date(at).toISOString()
    return {
      ...{ uid: made.toString(16).padStart(32, '0'), draftRevisionId: undefined, memberId: undefined, seq: made },
      ...{ device: 'd'.repeat(32), kind, place: stands, at: iso, deviceAt: iso, zone, note: '' },
    }
  })
  insertLoomSteps(db, pieceId, steps, '2026-11-24T11:59:00.000Z')
}

/** A pick each so many seconds from one instant to another, both included. */
export function wovenFrom(from: string, to: string, everySeconds = 60): (readonly [string, StepKind])[] {
  const [start, end] = [Date.parse(from), Date.parse(to)]
  const count = Math.floor((end - start) / 1000 / everySeconds) + 1
  return Array.from({ length: count }, (_, n) => [new Date(start + n * everySeconds * 1000).toISOString(), 'woven'])
}
