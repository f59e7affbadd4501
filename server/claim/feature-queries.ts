import { FEATURES, findFeature, isQuantity, type Feature, type FeatureGroup } from '../../shared/measure/feature.ts'
import { BASE_UNITS, unitsOf } from '../../shared/measure/unit.ts'
import type { Db } from '../db/open.ts'
import { readableFeature } from '../rights/readable.ts'
import { currentMemberId } from '../rights/viewer.ts'
import type { FeatureForm, OwnFeatureKind } from './feature-form.ts'

/** The built-in features, then of those that somebody made the ones that the viewer may see, by their label. */
export function listFeatures(db: Db): Feature[] {
  return [...FEATURES, ...listOwnFeatures(db)]
}

export function listOwnFeatures(db: Db): Feature[] {
  const query = db.sql.selectFrom('feature').selectAll().where(readableFeature()).orderBy('label').orderBy('key')
  return db.all(query).map(toOwnFeature)
}

/** A feature by its key, built in or made by somebody, if the viewer may see it. */
export function findAnyFeature(db: Db, key: string): Feature | undefined {
  const row = db.first(db.sql.selectFrom('feature').selectAll().where('key', '=', key).where(readableFeature()))
  return findFeature(key) ?? (row && toOwnFeature(row))
}

/**
 * Adds a feature of the viewer's own; a label that they see already, in whatever case, is not taken twice. That somebody
 * else has one of this name to themselves is not told: so the key, too, is made from what is theirs alone.
 */
export function insertFeature(db: Db, form: FeatureForm, at: string): { outcome: 'added' | 'taken'; key: string } {
  return db.write(() => {
    const same = listFeatures(db).find((feature) => fold(feature.label) === fold(form.label))
    if (same) return { outcome: 'taken', key: same.key }
    const key = freeFeatureKey(db, form.label)
    const row = { key, label: form.label, quantity: form.kind, created_at: at, owner_id: currentMemberId() }
    db.run(db.sql.insertInto('feature').values(row))
    return { outcome: 'added', key }
  })
}

const fold = (label: string) => label.normalize('NFKC').toLowerCase().replace(/\s+/g, ' ')

/** `own-` keeps it apart from the built-in keys, those of later versions too; the number is its maker's. */
export function freeFeatureKey(db: Db, label: string): string {
  const slug = label
    .normalize('NFD')
    .replace(/[^A-Za-z0-9]+/g, '-')
    .replace(/^-|-$/g, '')
    .toLowerCase()
    .slice(0, 60)
  const taken = new Set(db.all(db.sql.selectFrom('feature').select('key')).map((row) => row.key))
  const head = ['own', currentMemberId() ?? ''].filter(Boolean).join('')
  for (let number = 1; ; number += 1) {
    const key = [head, slug, slug !== '' && number === 1 ? '' : String(number)].filter(Boolean).join('-')
    if (!taken.has(key)) return key
  }
}

const GROUPS: Readonly<Record<OwnFeatureKind, FeatureGroup>> = {
  length: 'dimensions',
  perCm: 'density',
  count: 'structure',
  angle: 'structure',
  text: 'structure',
}

function toOwnFeature(row: { key: string; label: string; quantity: string }): Feature {
  const kind = row.quantity as OwnFeatureKind
  return {
    key: row.key,
    label: row.label,
    group: GROUPS[kind],
    kind,
    units: isQuantity(kind) ? unitsOf(kind) : [],
    baseUnit: isQuantity(kind) ? BASE_UNITS[kind] : null,
    comparesAsRatio: isQuantity(kind) && kind !== 'angle',
    perYarn: false,
    hint: 'A feature of your own.',
  }
}
