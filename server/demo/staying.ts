import { sql, type RawBuilder } from 'kysely'
import type { Db } from '../db/open.ts'
import { rawRows } from '../db/raw.ts'

/** In the order in which they can be deleted: what points at others comes first. */
export const KINDS = ['piece', 'draft', 'original', 'source', 'yarn'] as const
export type Kind = (typeof KINDS)[number]

/** One thing of the demo collection that will not go, and why: the maker has worked on it, or what stays rests on it. */
export interface Staying {
  readonly kind: Kind
  readonly id: number
  readonly name: string
  readonly because: readonly Reason[]
}

/** In words: `you have changed it`; or what rests on it, and how: `is woven from it`. */
export type Reason = { readonly words: string } | (Named & { readonly does: string })

interface Named {
  readonly kind: Kind
  readonly id: number
  readonly name: string
}

interface Row extends Named {
  readonly because: string
  readonly byKind: Kind | null
  readonly byId: number | null
  readonly byName: string | null
}

type Ids = Readonly<Record<Kind, readonly number[]>>

/** What of the demo collection would stay if it were taken out now. */
export function listStaying(db: Db): Staying[] {
  let ids: Ids = { piece: [], draft: [], original: [], source: [], yarn: [] }
  return KINDS.flatMap((kind) => {
    const staying = toStaying(REASONS[kind](ids).flatMap((reason) => rawRows(db, reason)))
    ids = { ...ids, [kind]: staying.map(({ id }) => id) }
    return staying
  })
}

/** The collection brings photographs of pieces alone, made at the instant of all its rows. */
const PHOTOGRAPHED = sql`exists (select 1 from photo as f where f.piece_id = x.id
  and (f.created_at <> x.created_at or f.updated_at <> f.created_at))`

/** The maker's own quotes and forecasts of a thing, and those of the collection that were changed. */
const QUOTED = {
  piece: sql`(exists (select 1 from quote as q where q.piece_id = x.id and (q.demo = 0 or q.updated_at <> q.created_at))
    or exists (select 1 from forecast as f where f.piece_id = x.id and f.demo = 0))`,
  draft: sql`exists (select 1 from draft_revision as r where r.draft_id = x.id
    and (exists (select 1 from quote as q where q.draft_revision_id = r.id and q.demo = 0)
      or exists (select 1 from forecast as f where f.draft_revision_id = r.id and f.demo = 0)))`,
}

/**
 * The loader makes all rows at one instant, so anything made later that belongs to one of them was made by hand. Each
 * kind is asked after those that point at it, whose ids that stay are known by then.
 */
const REASONS: Record<Kind, (ids: Ids) => RawBuilder<Row>[]> = {
  piece: () => [
    touched('piece', 'you have changed it', sql`x.updated_at <> x.created_at`),
    touched('piece', 'you have quoted it, or keep a forecast of it', QUOTED.piece),
    touched('piece', 'you have added claims about it', claimsAdded(sql`c.piece_id`)),
    touched(
      'piece',
      'you have added or changed sittings of it',
      sql`exists (select 1 from sitting as s where s.piece_id = x.id
        and (s.created_at <> x.created_at or s.updated_at <> s.created_at))`,
    ),
    touched('piece', 'you have added or changed photographs of it', PHOTOGRAPHED),
    touched(
      'piece',
      'you have planned it or changed its plan',
      sql`exists (select 1 from plan as p where p.piece_id = x.id
        and (p.created_at <> x.created_at or p.updated_at <> p.created_at))`,
    ),
    touched(
      'piece',
      'you have woven on it',
      sql`exists (select 1 from loom_step as s where s.piece_id = x.id and s.received_at <> x.created_at)`,
    ),
  ],
  draft: (ids) => [
    touched('draft', 'you have quoted it, or keep a forecast of it', QUOTED.draft),
    touched('draft', 'you have changed it', sql`x.updated_at <> x.created_at`),
    needed('draft', ids, {
      by: 'piece',
      does: 'is woven from it',
      join: sql`join draft_revision as r on r.id = y.draft_revision_id`,
      on: sql`r.draft_id = x.id`,
    }),
  ],
  original: (ids) => [
    touched('original', 'you have changed it', sql`x.updated_at <> x.created_at`),
    touched('original', 'you have added claims about it', claimsAdded(sql`c.original_id`)),
    touched(
      'original',
      'you have added photographs of it',
      sql`exists (select 1 from photo as f where f.original_id = x.id)`,
    ),
    needed('original', ids, { by: 'piece', does: 'follows it', on: sql`y.original_id = x.id` }),
    needed('original', ids, { by: 'draft', does: 'is a draft of it', on: sql`y.original_id = x.id` }),
  ],
  source: (ids) => [
    touched('source', 'you have changed it', sql`x.updated_at <> x.created_at`),
    needed('source', ids, {
      by: 'piece',
      does: 'has claims that cite it',
      join: sql`join claim as c on c.piece_id = y.id`,
      on: sql`c.source_id = x.id`,
    }),
    needed('source', ids, {
      by: 'original',
      does: 'has claims that cite it',
      join: sql`join claim as c on c.original_id = y.id`,
      on: sql`c.source_id = x.id`,
    }),
  ],
  yarn: (ids) => [
    touched('yarn', 'you have changed it', sql`x.updated_at <> x.created_at`),
    touched(
      'yarn',
      'you have added or changed lots of it',
      sql`exists (select 1 from lot as l where l.yarn_id = x.id
        and (l.created_at <> x.created_at or l.updated_at <> l.created_at))`,
    ),
    touched(
      'yarn',
      'you have added to its ledger',
      sql`exists (select 1 from movement as m join lot as l on l.id = m.lot_id
        where l.yarn_id = x.id and m.created_at <> x.created_at)`,
    ),
    needed('yarn', ids, {
      by: 'piece',
      does: 'is woven with it',
      join: sql`join piece_yarn as p on p.piece_id = y.id join lot as l on l.id = p.lot_id`,
      on: sql`l.yarn_id = x.id`,
    }),
    needed('yarn', ids, {
      by: 'piece',
      does: 'stands in its ledger',
      join: sql`join movement as m on m.piece_id = y.id join lot as l on l.id = m.lot_id`,
      on: sql`l.yarn_id = x.id`,
    }),
  ],
}

const claimsAdded = (subject: RawBuilder<unknown>) =>
  sql`exists (select 1 from claim as c where ${subject} = x.id and c.created_at <> x.created_at)`

const nameColumn = (kind: Kind) => (kind === 'piece' || kind === 'original' || kind === 'yarn' ? sql`name` : sql`title`)

/** Rows `x` of the collection that the maker has worked on. */
function touched(kind: Kind, because: string, condition: RawBuilder<unknown>): RawBuilder<Row> {
  return sql<Row>`select ${sql.lit(kind)} as kind, x.id, x.${nameColumn(kind)} as name, ${because} as because,
    null as "byKind", null as "byId", null as "byName"
    from ${sql.table(kind)} as x where x.demo = 1 and ${condition} order by x.id`
}

interface Need {
  readonly by: Kind
  readonly does: string
  /** What lies between `y` and `x`, where it does not point at `x` itself. */
  readonly join?: RawBuilder<unknown>
  readonly on: RawBuilder<unknown>
}

/** Rows `x` of the collection that a row `y` rests on, which is the maker's own or stays itself. */
function needed(kind: Kind, ids: Ids, { by, does, join = sql``, on }: Need): RawBuilder<Row> {
  return sql<Row>`select distinct ${sql.lit(kind)} as kind, x.id, x.${nameColumn(kind)} as name, ${does} as because,
    ${sql.lit(by)} as "byKind", y.id as "byId", y.${nameColumn(by)} as "byName"
    from ${sql.table(by)} as y ${join} join ${sql.table(kind)} as x on ${on}
    where x.demo = 1 and (y.demo = 0 or y.id in (${sql.join(ids[by])})) order by x.id, y.id`
}

function toStaying(rows: readonly Row[]): Staying[] {
  const reasons = new Map<number, Staying & { because: Reason[] }>()
  for (const { kind, id, name, because, byKind, byId, byName } of rows) {
    const staying = reasons.get(id) ?? { kind, id, name, because: [] }
    reasons.set(id, staying)
    const isOwnWork = byKind === null || byId === null || byName === null
    staying.because.push(isOwnWork ? { words: because } : { kind: byKind, id: byId, name: byName, does: because })
  }
  return [...reasons.values()].sort((a, b) => a.id - b.id)
}
