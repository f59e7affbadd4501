import { freeFeatureKey } from '../claim/feature-queries.ts'
import type { Db } from '../db/open.ts'
import { readableFeature } from '../rights/readable.ts'
import { currentMemberId } from '../rights/viewer.ts'
import type { ArchiveFeature } from './notebook.ts'
import { refuse } from './scan.ts'

export interface FeaturesBroughtIn {
  /** What did not come in as it was, each a sentence. */
  readonly remarks: string[]
  /** The key here, of those that another key was given to. */
  readonly keys: ReadonlyMap<string, string>
}

/**
 * Features of somebody's own making. One that is here by another name stays as it is; one whose key somebody else has to
 * themselves comes in under a key of its own, and nothing is told of the other.
 * @throws HttpError 422 when the same key measures something else here: its claims could not be read
 */
export function bringInFeatures(db: Db, features: readonly ArchiveFeature[]): FeaturesBroughtIn {
  const remarks: string[] = []
  const keys = new Map<string, string>()
  for (const { key, label, quantity, createdAt } of features) {
    const any = db.first(db.sql.selectFrom('feature').select('key').where('key', '=', key))
    const here = db.first(db.sql.selectFrom('feature').selectAll().where('key', '=', key).where(readableFeature()))
    if (here && here.quantity !== quantity)
      refuse(`The archive holds “${label}” as ${quantity}, which is ${here.quantity} in this notebook.`)
    if (here && here.label !== label)
      remarks.push(`The feature “${label}” is called “${here.label}” here, and stays so.`)
    if (here) continue
    const own = any ? freeFeatureKey(db, label) : key
    if (own !== key) keys.set(key, own)
    const row = { key: own, label, quantity, created_at: createdAt, owner_id: currentMemberId() }
    db.run(db.sql.insertInto('feature').values(row))
  }
  return { remarks, keys }
}
