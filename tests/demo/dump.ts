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
  const rows = tables.map((table) => [table, db.raw.prepare(`select rowid, * from "${table}" order by rowid`).all()])
  return Object.fromEntries(rows) as Record<string, unknown[]>
}
