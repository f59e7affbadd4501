import { sql } from 'kysely'
import { PIECE_STATUS_LABELS, type PieceStatus } from '../../shared/work/status.ts'
import { hiddenName } from '../rights/allowed.ts'
import { readable, readableRows } from '../rights/readable.ts'
import { NOT_GIVEN, orNotGiven } from './facet.ts'
import type { Catalogue } from './listing.ts'

export interface PieceEntry {
  readonly id: number
  readonly name: string
  readonly maker: string
  readonly status: PieceStatus
  /** The day since which the status holds. */
  readonly statusOn: string | null
  readonly originalId: number | null
  /** Null where the viewer may not see the original. */
  readonly originalName: string | null
  /** Of all stages, breaks taken off. */
  readonly minutes: number
  readonly sittings: number
}

/** `pieceStatus` of shared/work/status.ts once more, where a list can filter by it; a test keeps the two alike. */
export const STATUS_SQL = sql<PieceStatus>`case
  when p.set_aside_on >= max(coalesce(p.planned_on, ''), coalesce(p.on_loom_on, ''), coalesce(p.woven_on, ''),
    coalesce(p.finished_on, '')) then 'setAside'
  when p.finished_on is not null then 'finished'
  when p.woven_on is not null then 'woven'
  when p.on_loom_on is not null then 'onLoom'
  else 'planned' end`

const STATUS_DAY_SQL = sql<string | null>`case ${STATUS_SQL} when 'setAside' then p.set_aside_on when 'finished' then
  p.finished_on when 'woven' then p.woven_on when 'onLoom' then p.on_loom_on else p.planned_on end`

export const pieces = (): Catalogue<PieceEntry> => ({
  from: sql`${readableRows('piece', 'p')} left join original as o on o.id = p.original_id and ${readable('original', 'o')}`,
  columns: sql<PieceEntry>`p.id, p.name, p.maker, ${STATUS_SQL} as status, ${STATUS_DAY_SQL} as "statusOn",
    p.original_id as "originalId", o.name as "originalName",
    (select coalesce(sum(s.minutes - s.break_minutes), 0) from sitting as s where s.piece_id = p.id and s.deleted_at is null) as minutes,
    (select count(*) from sitting as s where s.piece_id = p.id and s.deleted_at is null) as sittings`,
  id: sql<number>`p.id`,
  order: sql<string>`p.name`,
  facets: [
    { name: 'status', label: 'Status', any: 'Any status', value: STATUS_SQL, text: PIECE_STATUS_LABELS },
    {
      ...{ name: 'maker', label: 'Maker', any: 'Any maker' },
      value: orNotGiven(sql<string>`p.maker`),
      text: sql<string>`p.maker`,
    },
    {
      ...{ name: 'original', label: 'Original', any: 'Any original or none', none: 'own design' },
      // Whether two pieces follow the same original is told only of originals that may be seen.
      value: sql<string>`case when p.original_id is null then ${sql.lit(NOT_GIVEN)} else coalesce(cast(o.id as text), 'hidden') end`,
      text: sql<string>`coalesce(o.name, ${hiddenName('original')})`,
    },
  ],
})
