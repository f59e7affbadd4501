import { sql } from 'kysely'
import type { Stage } from '../../shared/work/stage.ts'
import type { Db } from '../db/open.ts'
import { readable } from '../rights/readable.ts'
import { currentMemberId } from '../rights/viewer.ts'

/** The running clock of the viewer, at one piece. */
export interface Timer {
  readonly id: number
  readonly pieceId: number
  readonly pieceName: string
  readonly stage: Stage
  readonly zone: string
  readonly startedAt: string
  readonly pausedAt: string | undefined
  readonly pausedSeconds: number
  readonly stoppedAt: string | undefined
}

/** The viewer's own; undefined too where the piece is in the bin or no longer theirs to see. */
export function findTimer(db: Db): Timer | undefined {
  const row = db.first(
    db.sql
      .selectFrom('timer')
      .innerJoin('piece', 'piece.id', 'timer.piece_id')
      .selectAll('timer')
      .select('piece.name as pieceName')
      .where('timer.member_id', 'is', sql<number | null>`${currentMemberId()}`)
      .where(readable('piece')),
  )
  return (
    row && {
      ...{ id: row.id, pieceId: row.piece_id, pieceName: row.pieceName, stage: row.stage as Stage, zone: row.zone },
      ...{ startedAt: row.started_at, pausedAt: row.paused_at ?? undefined, pausedSeconds: row.paused_seconds },
      stoppedAt: row.stopped_at ?? undefined,
    }
  )
}

/** @returns false where one is running already, or waits to be kept */
export function startTimer(db: Db, pieceId: number, stage: Stage, zone: string, at: string): boolean {
  return db.write(() => {
    if (findTimer(db)) return false
    // One at a piece that is gone from sight would keep the clock busy for ever.
    deleteTimer(db)
    const row = { piece_id: pieceId, member_id: currentMemberId(), stage, zone, started_at: at, paused_seconds: 0 }
    db.run(db.sql.insertInto('timer').values(row))
    return true
  })
}

/** Nothing changes where it is paused or stopped already. */
export function pauseTimer(db: Db, at: string): void {
  const query = db.sql.updateTable('timer').set({ paused_at: at })
  db.run(query.where(isOwn).where('paused_at', 'is', null).where('stopped_at', 'is', null))
}

export function resumeTimer(db: Db, at: string): void {
  const timer = findTimer(db)
  if (timer?.pausedAt === undefined || timer.stoppedAt !== undefined) return
  const paused = timer.pausedSeconds + secondsBetween(timer.pausedAt, at)
  db.run(db.sql.updateTable('timer').set({ paused_at: null, paused_seconds: paused }).where('id', '=', timer.id))
}

/** A clock that is stopped in a pause stopped when the pause began. */
export function stopTimer(db: Db, at: string): void {
  const timer = findTimer(db)
  if (!timer || timer.stoppedAt !== undefined) return
  db.run(
    db.sql
      .updateTable('timer')
      // A clock of the machine that was put back must not let it end before it began.
      .set({ stopped_at: [timer.pausedAt ?? at, timer.startedAt].sort().at(-1) ?? at, paused_at: null })
      .where('id', '=', timer.id),
  )
}

export function deleteTimer(db: Db): void {
  db.run(db.sql.deleteFrom('timer').where(isOwn))
}

/** Whole seconds, never below zero: a clock of the machine that was put back takes nothing away. */
export const secondsBetween = (from: string, to: string): number =>
  Math.max(0, Math.round((Date.parse(to) - Date.parse(from)) / 1000))

const isOwn = () => sql<boolean>`member_id is ${currentMemberId()}`
