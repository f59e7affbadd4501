import type { Db } from '../../server/db/open.ts'

/**
 * Every row of every table and of the search index. Left out is `sqlite_sequence`: an id is never given twice, so that
 * an old address never leads to something new.
 */
export function dump(db: Db): Record<string, unknown[]> {
  const tables = db.raw
    .prepare<[], string>(
      "select name from sqlite_schema where type = 'table' and name not like 'sqlite_%' and name not like 'search_%'",
    )
    .pluck()
    .all()
  const rows = tables.map((table) => {
    const withoutRowid = db.raw.prepare('select wr from pragma_table_list(?)').pluck().get(table) === 1
    const order = withoutRowid ? 'select * from' : 'select rowid, * from'
    return [table, db.raw.prepare(`${order} "${table}" order by 1, 2`).all()]
  })
  return Object.fromEntries(rows) as Record<string, unknown[]>
}
