import type { Db } from '../db/open.ts'
import type { ArchiveFeature } from './notebook.ts'
import { refuse } from './scan.ts'

/**
 * Features of somebody's own making. One that is here by another name stays as it is.
 * @returns what to say of them
 * @throws HttpError 422 when the same key measures something else here: its claims could not be read
 */
export function bringInFeatures(db: Db, features: readonly ArchiveFeature[]): string[] {
  return features.flatMap(({ key, label, quantity, createdAt }) => {
    const here = db.first(db.sql.selectFrom('feature').selectAll().where('key', '=', key))
    if (!here) {
      db.run(db.sql.insertInto('feature').values({ key, label, quantity, created_at: createdAt }))
      return []
    }
    if (here.quantity !== quantity)
      refuse(`The archive holds “${label}” as ${quantity}, which is ${here.quantity} in this notebook.`)
    return here.label === label ? [] : [`The feature “${label}” is called “${here.label}” here, and stays so.`]
  })
}
