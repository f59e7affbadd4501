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
 * Keys of features that came in before under another key than theirs, because somebody else had that one to themselves:
 * the viewer's own of the same name, kind and instant. So an archive that comes in again is known again.
 */
export function findKeysHere(db: Db, features: readonly ArchiveFeature[]): ReadonlyMap<string, string> {
  const keys = new Map<string, string>()
  for (const { key, label, quantity, createdAt } of features) {
    if (findReadable(db, key)) continue
    const same = db.sql.selectFrom('feature').select('key').where('label', '=', label).where('quantity', '=', quantity)
    const own = db.first(
      same.where('created_at', '=', createdAt).where('owner_id', 'is', currentMemberId()).orderBy('key'),
    )
    if (own) keys.set(key, own.key)
  }
  return keys
}

const findReadable = (db: Db, key: string) =>
  db.first(db.sql.selectFrom('feature').selectAll().where('key', '=', key).where(readableFeature()))

/**
 * Features of somebody's own making. One that is here by another name stays as it is; one whose key somebody else has to
 * themselves comes in under a key of its own, and nothing is told of the other.
 * @throws HttpError 422 when the same key measures something else here: its claims could not be read
 */
export function bringInFeatures(db: Db, features: readonly ArchiveFeature[]): FeaturesBroughtIn {
  const remarks: string[] = []
  const keys = new Map(findKeysHere(db, features))
  for (const { key, label, quantity, createdAt } of features) {
    if (keys.has(key)) continue
    const any = db.first(db.sql.selectFrom('feature').select('key').where('key', '=', key))
    const here = findReadable(db, key)
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
