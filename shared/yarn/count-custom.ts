import type { CountSystem } from './count.ts'

/** A system as it is written; `Ne` alone leaves the hank to the fibre, and spun silk counts the plied yarn. */
export type Unit = CountSystem | 'spunSilk' | 'Ne'
export type Fibre = 'wool' | 'linen' | 'cotton' | 'silk'

const UNITS: readonly (readonly [RegExp, Unit])[] = [
  [/^(?:nm|metric)$/, 'Nm'],
  [/^(?:nec|ne_c|nb|cotton count|cc)$/, 'NeC'],
  [/^ne$/, 'Ne'],
  [/^(?:new|nek|ne_w|worsted count|wc)$/, 'NeW'],
  [/^(?:nel|ne_l|lea|leas)$/, 'NeL'],
  [/^(?:run|runs)$/, 'run'],
  [/^(?:ysw|skein|skeins)$/, 'YSW'],
  [/^(?:spyndle|spyndles)$/, 'spyndle'],
  [/^(?:dram|drams)$/, 'dram'],
  [/^tex$/, 'tex'],
  [/^dtex$/, 'dtex'],
  [/^ktex$/, 'ktex'],
  [/^(?:den|denier|td)$/, 'denier'],
  [/^(?:yd\/lb|yds\/lb|ypp|yards per pound|yards\/pound)$/, 'ydPerLb'],
  [/^(?:m\/100 ?g|metres per 100 ?g|meters per 100 ?g)$/, 'mPer100g'],
  [/^spun silk$/, 'spunSilk'],
]

const FIBRES: readonly (readonly [RegExp, Fibre])[] = [
  [/^(?:wool|woollen|woolen|merino|worsted)$/, 'wool'],
  [/^(?:linen|flax)$/, 'linen'],
  [/^cotton$/, 'cotton'],
  [/^silk$/, 'silk'],
]

/** What a count counts: one single, or the whole yarn. */
export type Counted = 'single' | 'whole'

/**
 * The systems that a number may be in, by its unit or by the customs of its fibre.
 * @returns none where neither is known; more than one where customs differ
 * @example systemsOf(undefined, 'wool') // metric and worsted count
 */
export function systemsOf(unit: Unit | undefined, fibre: Fibre | undefined): { system: CountSystem; of: Counted }[] {
  if (unit === 'spunSilk') return [{ system: 'NeC', of: 'whole' }]
  if (unit === 'Ne') {
    // English count: which hank is meant goes by the fibre, and cotton's is meant where nothing is said.
    if (fibre === 'linen') return [{ system: 'NeL', of: 'single' }]
    if (fibre === 'wool')
      return [
        { system: 'NeW', of: 'single' },
        { system: 'NeC', of: 'single' },
      ]
    if (fibre === 'silk')
      return [
        { system: 'NeC', of: 'whole' },
        { system: 'NeC', of: 'single' },
      ]
    return [{ system: 'NeC', of: 'single' }]
  }
  if (unit !== undefined) return [{ system: unit, of: isWhole(unit) ? 'whole' : 'single' }]
  switch (fibre) {
    case 'wool':
      return [
        { system: 'Nm', of: 'single' },
        { system: 'NeW', of: 'single' },
      ]
    case 'linen':
      return [
        { system: 'NeL', of: 'single' },
        { system: 'Nm', of: 'single' },
      ]
    case 'cotton':
      return [
        { system: 'NeC', of: 'single' },
        { system: 'Nm', of: 'single' },
      ]
    case 'silk':
      return [
        { system: 'Nm', of: 'single' },
        { system: 'NeC', of: 'whole' },
      ]
    default:
      return []
  }
}

/** Whether a unit has no singles: it speaks of the yarn as it lies in the hand. */
export function isWhole(unit: Unit): boolean {
  return unit === 'ydPerLb' || unit === 'mPer100g'
}

/** The system that a word names, small letters expected. */
export function unitOf(word: string): Unit | undefined {
  return UNITS.find(([pattern]) => pattern.test(word))?.[1]
}

/** The fibre that a word names, small letters expected. */
export function fibreOf(word: string): Fibre | undefined {
  return FIBRES.find(([pattern]) => pattern.test(word))?.[1]
}
