import { sql, type RawBuilder, type SqlBool } from 'kysely'
import type { Alone } from './rule.ts'
import { currentViewer, isAlone } from './viewer.ts'

/** The sorts of things that have an owner and may be shown to others. */
export const OWNED = ['source', 'original', 'draft', 'piece', 'yarn', 'weighting'] as const
export type Owned = (typeof OWNED)[number]

/**
 * A condition for `where`: what the viewer may see, and what is not in the bin. Every list, choice and count goes through
 * it; single things are asked for by the guard before a handler runs.
 * @param alias what the table is called in the query, if not by its name
 */
export function readable(table: Owned, alias: string = table): RawBuilder<SqlBool> {
  const row = sql.ref(alias)
  const stands = sql<SqlBool>`${row}.deleted_at is null`
  const viewer = currentViewer()
  if (isAlone(viewer)) return stands
  if (viewer.kind !== 'member') return sql`(${stands} and ${row}.visibility = 'published')`
  const shown = sql`${row}.visibility in ('members', 'published')`
  if (viewer.role === 'guest') return sql`(${stands} and ${shown})`
  return sql`(${stands} and (${shown} or ${isOwn(table, alias)}))`
}

/** For `from`, where the condition would have to be said in several places: the rows of a table that the viewer may see. */
export function readableRows(table: Owned, alias: string): RawBuilder<unknown> {
  return sql`(select * from ${sql.table(table)} where ${readable(table)}) as ${sql.ref(alias)}`
}

/**
 * A condition for `where`: the features of somebody's making that the viewer may see. They are the maker's own, and seen by
 * whoever may see an original or a piece with a claim about them.
 */
export function readableFeature(): RawBuilder<SqlBool> {
  const viewer = currentViewer()
  if (isAlone(viewer)) return sql`1`
  const claimed = (table: 'original' | 'piece') => sql`exists (select 1 from claim join ${sql.table(table)} on
    ${sql.ref(`${table}.id`)} = ${sql.ref(`claim.${table}_id`)} where claim.feature = feature.key and ${readable(table)})`
  const own = viewer.kind === 'member' ? sql`feature.owner_id = ${viewer.id}` : sql`0`
  return sql`(${own} or ${claimed('original')} or ${claimed('piece')})`
}

/** A condition for `where`: what the viewer may change (their own, and pieces they make with others), bin included. */
export function isOwn(table: Owned | Alone, alias: string = table): RawBuilder<SqlBool> {
  const row = sql.ref(alias)
  const viewer = currentViewer()
  if (isAlone(viewer)) return sql`1`
  if (viewer.kind !== 'member' || viewer.role === 'guest') return sql`0`
  const owned = sql<SqlBool>`${row}.owner_id = ${viewer.id}`
  if (table !== 'piece') return owned
  return sql`(${owned} or exists (select 1 from co_maker where co_maker.piece_id = ${row}.id and co_maker.member_id = ${viewer.id}))`
}
