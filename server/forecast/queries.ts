import type { Selectable } from 'kysely'
import type { ForecastStage } from '../../shared/work/new-piece.ts'
import type { ForecastRow as Row } from '../db/quote-tables.ts'
import type { Db } from '../db/open.ts'
import { findRevisionById } from '../draft/revision-queries.ts'
import { findPiece } from '../piece/queries.ts'
import { isOwn } from '../rights/readable.ts'
import { currentMemberId } from '../rights/viewer.ts'
import { listSittings } from '../sitting/queries.ts'
import { minutesByStage } from './own-piece-queries.ts'
import type { Forecast } from './work-out-queries.ts'

/** A forecast as it was kept, held against what it took where that is known. */
export interface KeptForecast {
  readonly id: number
  readonly kind: Row['kind']
  readonly madeOn: string
  readonly lowMinutes: number
  readonly likelyMinutes: number
  readonly highMinutes: number
  readonly base: string
  readonly keptBy: Row['kept_by']
  readonly pieceId: number | undefined
  readonly pieceName: string
  readonly draftTitle: string
  /** What the stages took from then on; undefined while the piece is not finished, or none is named. */
  readonly actualMinutes: number | undefined
}

interface Keeping {
  readonly pieceId?: number | undefined
  readonly revisionId?: number | undefined
  readonly forecast: Forecast
  readonly today: string
  readonly at: string
  readonly keptBy: Row['kept_by']
  readonly demo?: 0 | 1
}

/** Keeps a forecast; whole minutes, and the ends never within the middle by rounding. */
export function insertForecast(
  db: Db,
  { pieceId, revisionId, forecast, today, at, keptBy, demo = 0 }: Keeping,
): number {
  const { kind, total, rows, base, doneMinutes } = forecast
  const stages = rows.map(({ stage, range, base: on }) => ({ stage, minutes: Math.round(range.likely), base: on }))
  const range = {
    low_minutes: Math.floor(total.low),
    likely_minutes: Math.round(total.likely),
    high_minutes: Math.ceil(total.high),
  }
  const of = { owner_id: currentMemberId(), piece_id: pieceId ?? null, draft_revision_id: revisionId ?? null, demo }
  const made = { kind, made_on: today, made_at: at, done_minutes: Math.round(doneMinutes), kept_by: keptBy, base }
  return db.run(db.sql.insertInto('forecast').values({ ...of, ...range, ...made, stages: JSON.stringify(stages) })).id
}

/** Forecasts that the viewer kept, the latest first. */
export function listForecasts(db: Db): KeptForecast[] {
  const query = db.sql.selectFrom('forecast').selectAll().where(isOwn('forecast'))
  return db.all(query.orderBy('made_at', 'desc').orderBy('id', 'desc')).map((row) => toKept(db, row))
}

export function findForecast(db: Db, id: number): KeptForecast | undefined {
  const row = db.first(db.sql.selectFrom('forecast').selectAll().where('id', '=', id).where(isOwn('forecast')))
  return row && toKept(db, row)
}

/** Says as which piece the band was woven. */
export function setForecastPiece(db: Db, id: number, pieceId: number | null): void {
  db.run(db.sql.updateTable('forecast').set({ piece_id: pieceId }).where('id', '=', id).where('kind', '=', 'whole'))
}

/** The stages of a forecast, in minutes of the middle. */
export function stagesOf(row: Pick<Row, 'stages'>): { stage: ForecastStage; minutes: number }[] {
  return JSON.parse(row.stages) as { stage: ForecastStage; minutes: number }[]
}

function toKept(db: Db, row: Selectable<Row>): KeptForecast {
  const piece = row.piece_id === null ? undefined : findPiece(db, row.piece_id)
  const revision = row.draft_revision_id === null ? undefined : findRevisionById(db, row.draft_revision_id)
  const isDone = piece?.status.status === 'finished'
  return {
    ...{ id: row.id, kind: row.kind, madeOn: row.made_on, base: row.base, keptBy: row.kept_by },
    ...{ lowMinutes: row.low_minutes, likelyMinutes: row.likely_minutes, highMinutes: row.high_minutes },
    ...{ pieceId: piece?.id, pieceName: piece?.name ?? '', draftTitle: revision?.draft.title ?? '' },
    actualMinutes: isDone ? actualOf(db, piece.id, row) : undefined,
  }
}

function actualOf(db: Db, pieceId: number, row: Selectable<Row>): number {
  const worked = minutesByStage(listSittings(db, pieceId))
  const minutes = stagesOf(row).reduce((sum, { stage }) => sum + (worked[stage] ?? 0), 0)
  return Math.max(0, minutes - row.done_minutes)
}
