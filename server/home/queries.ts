import { sql } from 'kysely'
import { STATUS_SQL } from '../catalogue/pieces.ts'
import type { Db } from '../db/open.ts'
import { rawRows } from '../db/raw.ts'
import { isOwn, readable, readableRows } from '../rights/readable.ts'
import type { PieceStatus } from '../../shared/work/status.ts'
import type { Stage } from '../../shared/work/stage.ts'

export interface Counts {
  readonly originals: number
  readonly drafts: number
  readonly pieces: number
  readonly sources: number
  readonly sittings: number
  /** Of all sittings, breaks taken off. */
  readonly minutes: number
}

export function countNotebook(db: Db): Counts {
  return rawRows(
    db,
    sql<Counts>`select (select count(*) from original where ${readable('original')}) as originals,
      (select count(*) from draft where ${readable('draft')}) as drafts,
      (select count(*) from piece where ${readable('piece')}) as pieces,
      (select count(*) from source where ${readable('source')}) as sources,
      (select count(*) from sitting as s join piece as p on p.id = s.piece_id
        where s.deleted_at is null and ${readable('piece', 'p')}) as sittings,
      (select coalesce(sum(s.minutes - s.break_minutes), 0) from sitting as s join piece as p on p.id = s.piece_id
        where s.deleted_at is null and ${readable('piece', 'p')}) as minutes`,
  )[0]!
}

export interface OnLoom {
  readonly id: number
  readonly name: string
  readonly maker: string
  readonly originalId: number | null
  /** Null too where the viewer may not see the original. */
  readonly originalName: string | null
  readonly mayEdit: boolean
  readonly draftId: number | null
  readonly revision: number | null
  readonly tablets: number | null
  readonly minutes: number
  readonly sittings: number
  readonly last: { readonly day: string; readonly stage: Stage; readonly minutes: number; readonly note: string } | null
}

type OnLoomRow = Omit<OnLoom, 'last' | 'mayEdit'> & { mayEdit: number } & {
  day: string | null
  stage: Stage
  lastMinutes: number
  note: string
}

/** The pieces on the loom, the one worked on last first. */
export function listOnLoom(db: Db, most: number): OnLoom[] {
  const rows = rawRows(
    db,
    sql<OnLoomRow>`select p.id, p.name, p.maker, p.original_id as "originalId", o.name as "originalName",
        r.draft_id as "draftId", r.number as revision, r.tablets, ${isOwn('piece', 'p')} as "mayEdit",
        (select coalesce(sum(s.minutes - s.break_minutes), 0) from sitting as s where s.piece_id = p.id and s.deleted_at is null) as minutes,
        (select count(*) from sitting as s where s.piece_id = p.id and s.deleted_at is null) as sittings,
        l.day, l.stage, l.minutes - l.break_minutes as "lastMinutes", l.note
      from ${readableRows('piece', 'p')} left join original as o on o.id = p.original_id and ${readable('original', 'o')}
      left join draft_revision as r on r.id = p.draft_revision_id
        and exists (select 1 from draft as d where d.id = r.draft_id and ${readable('draft', 'd')})
      left join sitting as l on l.id = (select s.id from sitting as s where s.piece_id = p.id and s.deleted_at is null
        order by s.day desc, s.started_at desc, s.id desc limit 1)
      where (${STATUS_SQL}) = 'onLoom'
      order by coalesce(l.day, p.on_loom_on) desc, l.started_at desc, p.id desc limit ${most}`,
  )
  return rows.map(({ day, stage, lastMinutes, note, mayEdit, ...row }) => ({
    ...row,
    mayEdit: mayEdit === 1,
    last: day === null ? null : { day, stage, minutes: lastMinutes, note },
  }))
}

export interface HeroDraft {
  readonly id: number
  readonly title: string
  readonly revision: number
  readonly tablets: number
  readonly picks: number
}

/** The revision that was woven from last; where nothing is woven yet, the newest one. */
export function findHeroDraft(db: Db): HeroDraft | undefined {
  const columns = sql`d.id, d.title, r.number as revision, r.tablets, r.picks`
  const woven = sql<HeroDraft>`select ${columns} from sitting as s join piece as p on p.id = s.piece_id and s.deleted_at is null
    join draft_revision as r on r.id = p.draft_revision_id join draft as d on d.id = r.draft_id
    where ${readable('piece', 'p')} and ${readable('draft', 'd')}
    order by s.day desc, s.started_at desc, s.id desc limit 1`
  const newest = sql<HeroDraft>`select ${columns} from draft_revision as r join draft as d on d.id = r.draft_id
    where ${readable('draft', 'd')} order by r.created_at desc, r.id desc limit 1`
  return rawRows(db, woven)[0] ?? rawRows(db, newest)[0]
}

export interface RecentOriginal {
  readonly id: number
  readonly name: string
  readonly holder: string
  readonly dateEdtf: string
  readonly claims: number
}

export function listRecentOriginals(db: Db, most: number): RecentOriginal[] {
  return rawRows(
    db,
    sql<RecentOriginal>`select o.id, o.name, o.holder, o.date_edtf as "dateEdtf",
      (select count(*) from claim as c where c.original_id = o.id and c.withdrawn_on is null) as claims
      from original as o where ${readable('original', 'o')} order by o.id desc limit ${most}`,
  )
}

export interface MeasuredPiece {
  readonly id: number
  readonly name: string
  readonly maker: string
  readonly status: PieceStatus
  readonly originalId: number
}

/** Pieces of these originals with something measured on them, in the order in which they were recorded. */
export function listMeasuredPieces(db: Db, originalIds: readonly number[]): MeasuredPiece[] {
  if (originalIds.length === 0) return []
  return rawRows(
    db,
    sql<MeasuredPiece>`select p.id, p.name, p.maker, ${STATUS_SQL} as status, p.original_id as "originalId"
      from piece as p where p.original_id in (${sql.join(originalIds)}) and ${readable('piece', 'p')}
      and exists (select 1 from claim as c where c.piece_id = p.id and c.kind <> 'blank' and c.withdrawn_on is null)
      order by p.id`,
  )
}
