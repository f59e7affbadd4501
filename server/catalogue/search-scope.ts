import { sql, type RawBuilder, type SqlBool } from 'kysely'
import { isOwn, readable } from '../rights/readable.ts'
import { currentViewer, isAlone } from '../rights/viewer.ts'
import { SEARCH_KINDS, type SearchKind } from './search-kind.ts'

/** Rows of the index that the viewer may search by the same columns of it. */
export interface Scope {
  /** Of the row of `search` at hand. */
  readonly rows: RawBuilder<SqlBool>
  readonly own: 0 | 1
  readonly cited: 0 | 1
}

/**
 * What the viewer may search. For whom a piece is, only its makers find it by; a place in a source only who may see the
 * source. So the readable rows fall into four scopes, each searched by its own columns.
 */
export function listScopes(): Scope[] {
  const shown = ofKinds((kind) => sql`x.id is not null and ${readable(kind, 'x')}`)
  if (isAlone(currentViewer())) return [{ rows: shown, own: 1, cited: 1 }]
  const own = ofKinds((kind) => isOwn(kind, 'x'))
  return ([0, 1] as const).flatMap((ofOwn) =>
    ([0, 1] as const).map((ofCited) => ({
      rows: sql<SqlBool>`${shown} and ${own} = ${sql.lit(ofOwn)} and ${CITES_READABLE()} = ${sql.lit(ofCited)}`,
      ...{ own: ofOwn, cited: ofCited },
    })),
  )
}

/** The expression for FTS5 within the columns of a scope. */
export function matchIn({ own, cited }: Scope, match: string): string {
  return `{title body${own ? ' own' : ''}${cited ? ' cited' : ''}} : (${match})`
}

type RowId = RawBuilder<unknown>
/** The number of a row's kind, and the id of what it is about, from its row id. */
export const kindIn = (row: RowId) => sql`iif(${row} < 0, ${sql.lit(SEARCH_KINDS.indexOf('yarn'))}, ${row} % 4)`
const idIn = (row: RowId) => sql`iif(${row} < 0, -${row}, ${row} / 4)`

function ofKinds(condition: (kind: SearchKind) => RawBuilder<SqlBool>): RawBuilder<SqlBool> {
  const cases = SEARCH_KINDS.map(
    (kind, number) => sql`when ${sql.lit(number)} then
      exists (select 1 from ${sql.table(kind)} as x where x.id = ${idIn(sql`search.rowid`)} and ${condition(kind)})`,
  )
  return sql`case ${kindIn(sql`search.rowid`)} ${sql.join(cases, sql` `)} end`
}

/** Whether no claim about the thing cites a source that the viewer may not see. */
const CITES_READABLE = () => sql<SqlBool>`not exists (select 1 from claim as c where c.source_id is not null
  and c.locator <> '' and case search.rowid % 4 when 0 then c.original_id = search.rowid / 4
    when 1 then c.piece_id = search.rowid / 4 else 0 end
  and not exists (select 1 from source as s where s.id = c.source_id and ${readable('source', 's')}))`
