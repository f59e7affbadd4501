import type { RawBuilder } from 'kysely'
import type { Db } from './open.ts'

/** The rows of a query written in SQL itself (`sql<Row>`…``), for what Kysely's builder has no words for. */
export function rawRows<Row>(db: Db, query: RawBuilder<Row>): Row[] {
  const { sql, parameters } = query.compile(db.sql)
  return db.raw.prepare<unknown[], Row>(sql).all(...parameters)
}
