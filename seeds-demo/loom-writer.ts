import { randomBytes } from 'node:crypto'
import type { Db } from '../server/db/open.ts'
import { insertLoomSteps, type NewLoomStep } from '../server/loom/queries.ts'
import { findPiece } from '../server/piece/queries.ts'
import type { StepKind } from '../shared/loom/step.ts'

/** Picks of the teaching band that its log knew of before the phone lay beside it: 88 repeats of 4. */
const BEFORE = 352
const FROM = Date.parse('2026-06-28T12:05:00.000Z')
const ZONE = 'Europe/Berlin'

/** What happened, and how many seconds after what happened before. */
const SAID: readonly [seconds: number, kind: StepKind, note: string][] = [
  [0, 'set', 'where the log says'],
  ...woven(14, 11),
  [9, 'slip', 'tablet 9 turned twice'],
  [14, 'unwoven', ''],
  ...woven(9, 12),
  [4, 'back', ''],
  ...woven(1, 6),
  [3, 'pause', ''],
  [540, 'woven', ''],
  ...woven(23, 10),
]

function woven(picks: number, seconds: number): [number, StepKind, string][] {
  return Array.from({ length: picks }, (_, at) => [seconds + ((at * 7) % 5), 'woven', ''])
}

const MOVES: Partial<Record<StepKind, number>> = { woven: 1, back: -1, unwoven: -1 }

/** One sitting at the loom with the page beside it, for the piece that is still on it. */
export function writeLoomSteps(db: Db, pieceIds: ReadonlyMap<string, number>, at: string): void {
  const id = pieceIds.get('teachingChevron')
  const piece = id === undefined ? undefined : findPiece(db, id)
  if (!piece) throw new Error('The teaching band is not in the collection')
  const device = newUid()
  let [place, ms] = [BEFORE, FROM]
  const steps = SAID.map(([seconds, kind, note], index): NewLoomStep => {
    place += MOVES[kind] ?? 0
    ms += seconds * 1000
    const when = new Date(ms).toISOString()
    return {
      ...{ uid: newUid(), device, seq: index + 1, kind, place, at: when, deviceAt: when, zone: ZONE, note },
      ...{ draftRevisionId: piece.draftRevisionId, memberId: undefined },
    }
  })
  insertLoomSteps(db, piece.id, steps, at)
}

const newUid = () => randomBytes(16).toString('hex')
