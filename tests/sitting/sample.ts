import { makePiece } from '../support/make-piece.ts'
import { startApp } from '../support/start.ts'

/** A sitting as it is typed. */
export const TYPED = {
  ...{ stage: 'weave', day: '2026-11-20', start: '14:00', end: '16:30', minutes: '', breakMinutes: '20' },
  ...{ picks: '90', repeats: '', length: '11.5', lengthUnit: 'cm', note: 'Warp runs well.', maker: 'Runa' },
  ...{ zone: 'Europe/Berlin' },
}

/** The program with one piece in it, whose maker is Runa. */
export function withPiece() {
  const started = startApp()
  return { ...started, pieceId: makePiece(started.db) }
}

/** The sitting of 14:00 to 16:30 on 20 November. */
export const AFTERNOON = {
  ...{ startedAt: '2026-11-20T13:00:00Z', endedAt: '2026-11-20T15:30:00Z', minutes: 150 },
}
