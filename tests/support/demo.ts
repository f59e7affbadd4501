import { loadDemo } from '../../seeds-demo/load.ts'
import { databaseOf, migratedDb, NOW } from './start.ts'
import type { Db } from '../../server/db/open.ts'

const loaded = new Map<number, Buffer>()

/**
 * A notebook with the demo collection, loaded at this instant. It is loaded once, through its forms and queries, and
 * copied from then on: that takes half a second each time.
 */
export function demoDb(at = NOW, file?: string): Db {
  let content = loaded.get(at.getTime())
  if (!content) {
    const db = migratedDb()
    loadDemo(db, at)
    loaded.set(at.getTime(), (content = db.raw.serialize()))
  }
  return databaseOf(content, file)
}
