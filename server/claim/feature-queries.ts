import { FEATURES, findFeature, isQuantity, type Feature, type FeatureGroup } from '../../shared/measure/feature.ts'
import { BASE_UNITS, unitsOf } from '../../shared/measure/unit.ts'
import type { Db } from '../db/open.ts'
import type { FeatureForm, OwnFeatureKind } from './feature-form.ts'

/** The built-in features, then the user's own by their label. */
export function listFeatures(db: Db): Feature[] {
  return [...FEATURES, ...listOwnFeatures(db)]
}

export function listOwnFeatures(db: Db): Feature[] {
  return db.all(db.sql.selectFrom('feature').selectAll().orderBy('label').orderBy('key')).map(toOwnFeature)
}

/** A feature by its key, built in or the user's own. */
export function findAnyFeature(db: Db, key: string): Feature | undefined {
  const row = db.first(db.sql.selectFrom('feature').selectAll().where('key', '=', key))
  return findFeature(key) ?? (row && toOwnFeature(row))
}

/** Adds a feature of the user's own; a label that is there already, in whatever case, is not taken twice. */
export function insertFeature(db: Db, form: FeatureForm, at: string): { outcome: 'added' | 'taken'; key: string } {
  return db.write(() => {
    const features = listFeatures(db)
    const same = features.find((feature) => fold(feature.label) === fold(form.label))
    if (same) return { outcome: 'taken', key: same.key }
    const key = freeKey(form.label, new Set(features.map((feature) => feature.key)))
    db.run(db.sql.insertInto('feature').values({ key, label: form.label, quantity: form.kind, created_at: at }))
    return { outcome: 'added', key }
  })
}

const fold = (label: string) => label.normalize('NFKC').toLowerCase().replace(/\s+/g, ' ')

/** `own-` keeps it apart from the built-in keys, those of later versions too. */
function freeKey(label: string, taken: ReadonlySet<string>): string {
  const slug = label
    .normalize('NFD')
    .replace(/[^A-Za-z0-9]+/g, '-')
    .replace(/^-|-$/g, '')
    .toLowerCase()
    .slice(0, 60)
  for (let number = 1; ; number += 1) {
    const key = ['own', slug, slug !== '' && number === 1 ? '' : String(number)].filter(Boolean).join('-')
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
