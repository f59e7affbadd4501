import { BASE_UNITS, unitsOf, type QuantityKind, type Unit } from './unit.ts'

/** What a claim about a feature holds: a measured quantity, or one of five sorts of words. */
export type FeatureKind = QuantityKind | 'text' | 'build' | 'fibre' | 'dye' | 'colour'

export type FeatureGroup = 'dimensions' | 'density' | 'warp' | 'weft' | 'colour' | 'structure'

export interface Feature {
  readonly key: string
  readonly label: string
  readonly group: FeatureGroup
  readonly kind: FeatureKind
  /** Units a value may be typed in, the base unit first; none for words. */
  readonly units: readonly Unit[]
  /** The unit in which values are compared; null for words. */
  readonly baseUnit: Unit | null
  /** Whether replica over original says something. An angle has no such ratio: 20° is not half as twisted as 40°. */
  readonly comparesAsRatio: boolean
  /** Whether a claim must say which yarn it speaks of, because a band may hold several. */
  readonly perYarn: boolean
  /** One line that helps whoever fills it in. */
  readonly hint: string
}

/** Groups in the order in which pages show them. */
export const FEATURE_GROUPS: Readonly<Record<FeatureGroup, string>> = {
  dimensions: 'Dimensions',
  density: 'Density',
  warp: 'Yarn, warp',
  weft: 'Yarn, weft',
  colour: 'Dye and colour',
  structure: 'Structure',
}

/**
 * The features of a band that the program knows, in the order in which pages show them. Our own list, after what
 * published analyses of tablet-woven bands record; a user may add features beside these.
 */
export const FEATURES: readonly Feature[] = [
  measured('width', 'Width', 'dimensions', 'length', 'Across the band, at several places.'),
  measured('preservedLength', 'Preserved length', 'dimensions', 'length', 'As much as is left, along the warp.', false),
  measured('thickness', 'Thickness', 'dimensions', 'length', 'With the pressure of the gauge, if it is known.'),
  measured(
    'repeatLength',
    'Length of a repeat',
    'dimensions',
    'length',
    'Along the warp, over as many repeats as you can.',
  ),
  measured(
    'tabletsPerCm',
    'Tablets per cm',
    'density',
    'perCm',
    'Across the band; say whether the edges are counted in.',
  ),
  measured('endsPerCm', 'Ends per cm', 'density', 'perCm', 'Warp threads across the band, all layers.'),
  measured('picksPerCm', 'Picks per cm', 'density', 'perCm', 'Along the warp: picks counted over a length, 72 in 9.'),
  ...yarn('warp', 'Warp'),
  ...yarn('weft', 'Weft'),
  worded('dye', 'Dye', 'colour', 'dye', 'Of one yarn: the dyestuff, and how it was found out.', true),
  worded(
    'colour',
    'Colour',
    'colour',
    'colour',
    'Of one yarn: as it looks now, or as it is thought to have been.',
    true,
  ),
  measured('tablets', 'Tablets', 'structure', 'count', 'All of them, edges too; a least number is a range.'),
  measured('holesThreaded', 'Holes threaded', 'structure', 'count', 'In each tablet; two, three or four.', false),
  measured('repeatPicks', 'Picks in a repeat', 'structure', 'count', 'From one pick to the next one like it.'),
  worded('structure', 'Structure', 'structure', 'text', 'How it is woven: warp-twined, double-face, floats.'),
  worded('edges', 'Edges', 'structure', 'text', 'How many tablets, how turned; tubular, plain, sewn on.'),
]

/**
 * A feature of the list by its key.
 * @param key as stored with a claim
 * @returns the feature, or undefined when the key is not in the list (a feature of the user's own, perhaps)
 * @example findFeature('width')?.baseUnit // 'mm'; findFeature('smell') // undefined
 */
export function findFeature(key: string): Feature | undefined {
  return FEATURES.find((feature) => feature.key === key)
}

/**
 * Whether values of this kind are measured, so that they have units, readings and an uncertainty.
 * @param kind any feature kind
 * @returns true for length, density, count and angle; false for words
 */
export function isQuantity(kind: FeatureKind): kind is QuantityKind {
  return kind in BASE_UNITS
}

function measured(
  key: string,
  label: string,
  group: FeatureGroup,
  kind: QuantityKind,
  hint: string,
  comparesAsRatio = kind !== 'angle',
): Feature {
  const [units, baseUnit] = [unitsOf(kind), BASE_UNITS[kind]]
  return { key, label, group, kind, units, baseUnit, comparesAsRatio, perYarn: false, hint }
}

function worded(
  key: string,
  label: string,
  group: FeatureGroup,
  kind: Exclude<FeatureKind, QuantityKind>,
  hint: string,
  perYarn = false,
): Feature {
  return { key, label, group, kind, units: [], baseUnit: null, comparesAsRatio: false, perYarn, hint }
}

function yarn(group: 'warp' | 'weft', label: string): readonly Feature[] {
  return [
    measured(
      `${group}Diameter`,
      `${label} thread diameter`,
      group,
      'length',
      'Ten readings where there are ten threads.',
    ),
    measured(
      `${group}TwistAngle`,
      `${label} twist angle`,
      group,
      'angle',
      'Between the fibres and the axis of the thread.',
    ),
    worded(`${group}Build`, `${label} build`, group, 'build', 'Spin and ply in the order of making: Z; Z2S; Z2S3Z.'),
    worded(`${group}Fibre`, `${label} fibre`, group, 'fibre', 'Which fibre, and how it was found out.'),
  ]
}
