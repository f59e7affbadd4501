import type { Db } from '../../server/db/open.ts'
import type { PieceForm } from '../../server/piece/form.ts'
import { insertPiece } from '../../server/piece/queries.ts'
import type { SittingForm } from '../../server/sitting/form.ts'
import { insertSitting } from '../../server/sitting/queries.ts'

const AT = '2026-11-24T12:00:00.000Z'

const PIECE: PieceForm = {
  ...{
    name: 'Belt for the ferry house',
    maker: 'Runa',
    forWhom: '',
    originalId: undefined,
    draftRevisionId: undefined,
  },
  ...{ plannedOn: '2026-01-05', onLoomOn: undefined, wovenOn: undefined, finishedOn: undefined, setAsideOn: undefined },
  ...{ setAsideReason: '', notes: '', wentWrong: '', yarns: [] },
}

const SITTING: SittingForm = {
  ...{ stage: 'weave', maker: 'Runa', zone: 'Europe/Berlin', day: '2026-11-20' },
  ...{ startedAt: undefined, endedAt: undefined, minutes: 60, breakMinutes: 0 },
  ...{ picks: undefined, repeats: undefined, lengthMm: undefined, note: '' },
}

/** A piece with what a test says of it, and the rest filled in; its id. */
export function makePiece(db: Db, piece: Partial<PieceForm> = {}): number {
  return insertPiece(db, { ...PIECE, ...piece }, AT)
}

/** An hour of weaving without times, or what a test says of it; its id. */
export function makeSitting(db: Db, pieceId: number, sitting: Partial<SittingForm> = {}): number {
  return insertSitting(db, pieceId, { ...SITTING, ...sitting }, AT)
}
