import { sql } from 'kysely'
import type { Db } from '../db/open.ts'
import { rawRows } from '../db/raw.ts'

/** In the order in which they can be deleted: what points at others comes first. */
const TABLES = ['piece', 'draft', 'original', 'source'] as const

/** Whether anything of the demo collection is in the notebook. */
export function hasDemo(db: Db): boolean {
  const counts = TABLES.map((table) => sql`(select count(*) from ${sql.table(table)} where demo = 1)`)
  return rawRows(db, sql<{ demo: number }>`select ${sql.join(counts, sql` + `)} as demo`)[0]!.demo > 0
}

export interface Kept {
  readonly kind: (typeof TABLES)[number]
  readonly id: number
  readonly name: string
}

/**
 * Takes the demo collection out again. What the maker has added to or changed stays, and so does all that this and the
 * maker's own records point at; it is the maker's own from now on.
 * @returns what stayed
 */
export function removeDemo(db: Db): Kept[] {
  return db.write(() => {
    const kept = TABLES.flatMap((kind) => adopt(db, kind))
    const gone = TABLES.flatMap((kind) => listLogged(db, kind))
    for (const table of TABLES) db.run(db.sql.deleteFrom(table).where('demo', '=', 1))
    for (const { kind, id } of gone)
      db.run(db.sql.deleteFrom('change').where('kind', '=', kind).where('item_id', '=', id))
    return kept
  })
}

/** What is removed with the demo rows of a kind and has entries in the log of changes, which go too. */
function listLogged(db: Db, kind: Kept['kind']): { kind: string; id: number }[] {
  const demo = sql`select id from ${sql.table(kind)} where demo = 1`
  const own = sql`select ${sql.lit(kind)} as kind, id from ${sql.table(kind)} where demo = 1`
  const claims = sql`union all select 'claim', id from claim where ${sql.ref(`${kind}_id`)} in (${demo})`
  const photos = sql`union all select 'photo', id from photo where ${sql.ref(`${kind}_id`)} in (${demo})`
  const sittings = sql`union all select 'sitting', id from sitting where piece_id in (${demo})`
  const rest = {
    source: sql``,
    draft: sql``,
    original: sql`${claims} ${photos}`,
    piece: sql`${claims} ${photos} ${sittings}`,
  }[kind]
  return rawRows(db, sql<{ kind: string; id: number }>`${own} ${rest}`)
}

/**
 * Why a row `x` of the collection stays. The loader makes all rows at one instant, so anything made later that belongs
 * to one of them was made by hand; pieces are looked at first, since they point at the others.
 */
const STAYS = {
  piece: sql`x.updated_at <> x.created_at
    or exists (select 1 from claim as c where c.piece_id = x.id and c.created_at <> x.created_at)
    or exists (select 1 from photo as f where f.piece_id = x.id
      and (f.created_at <> x.created_at or f.updated_at <> f.created_at))
    or exists (select 1 from sitting as s where s.piece_id = x.id
      and (s.created_at <> x.created_at or s.updated_at <> s.created_at))`,
  draft: sql`x.updated_at <> x.created_at
    or exists (select 1 from piece as p join draft_revision as r on r.id = p.draft_revision_id
      where p.demo = 0 and r.draft_id = x.id)`,
  original: sql`x.updated_at <> x.created_at
    or exists (select 1 from photo as f where f.original_id = x.id)
    or exists (select 1 from claim as c where c.original_id = x.id and c.created_at <> x.created_at)
    or exists (select 1 from piece as p where p.demo = 0 and p.original_id = x.id)
    or exists (select 1 from draft as d where d.demo = 0 and d.original_id = x.id)`,
  source: sql`x.updated_at <> x.created_at
    or exists (select 1 from claim as c where c.source_id = x.id
      and (exists (select 1 from piece as p where p.id = c.piece_id and p.demo = 0)
        or exists (select 1 from original as o where o.id = c.original_id and o.demo = 0)))`,
}

function adopt(db: Db, kind: Kept['kind']): Kept[] {
  const name = kind === 'piece' || kind === 'original' ? sql`name` : sql`title`
  const query = sql<Kept>`update ${sql.table(kind)} as x set demo = 0 where x.demo = 1 and (${STAYS[kind]})
    returning ${sql.lit(kind)} as kind, id, ${name} as name`
  return rawRows(db, query)
}
