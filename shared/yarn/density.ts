import { type BlendPart, blendDensity, FIBRES } from './fibre.ts'

/** Density of one fibre as the notebook goes by it: built in, or a value of the maker's own in its place. */
export interface FibreDensity {
  /** As a blend names it: `wool`. */
  readonly fibre: string
  readonly label: string
  /** g/cm³ of the fibre itself; low and high are alike where one value is given. */
  readonly low: number
  readonly high: number
  readonly source: string
  readonly isOwn: boolean
}

/** Density of the fibre of a yarn: g/cm³ at the middle, between which values it lies, and what it rests on. */
export interface Density {
  readonly gPerCm3: number
  readonly low: number
  readonly high: number
  /** `wool 1.31 g/cm³ (…)`, every fibre of a blend with its source. */
  readonly from: string
}

/** Between these the density of anything spun lies: hollow hair is lighter than water, gold thread is 19.3. */
export const LEAST_DENSITY = 0.2
export const MOST_DENSITY = 25

/**
 * The word by which a fibre is looked up.
 * @example fibreKey(' Flax') // 'linen'
 */
export function fibreKey(word: string): string {
  const plain = word.trim().toLowerCase()
  return plain === 'flax' ? 'linen' : plain
}

/**
 * All densities that a maker goes by: their own, which stand in the place of built-in ones, and the other built-in ones.
 * @param own as kept, one a fibre
 * @returns in the order of the built-in table, fibres that it does not know behind
 * @example listDensities([]) // wool 1.31, silk 1.34, …
 */
export function listDensities(own: readonly Omit<FibreDensity, 'label' | 'isOwn'>[]): FibreDensity[] {
  const kept = new Map(own.map((one) => [one.fibre, one]))
  const builtIn = Object.entries(FIBRES).map(([fibre, { label, densityGPerCm3, source }]): FibreDensity => {
    const mine = kept.get(fibre)
    kept.delete(fibre)
    return mine
      ? { ...mine, label, isOwn: true }
      : { ...{ fibre, label, source, isOwn: false }, low: densityGPerCm3, high: densityGPerCm3 }
  })
  return [...builtIn, ...[...kept.values()].map((mine) => ({ ...mine, label: mine.fibre, isOwn: true }))]
}

/** The density of one fibre by its word; undefined where no table knows it. */
export const findDensity = (densities: readonly FibreDensity[], fibre: string): FibreDensity | undefined =>
  densities.find((one) => one.fibre === fibreKey(fibre))

/** As a yarn of that fibre alone has it. */
export const toDensity = (density: FibreDensity): Density => ({
  ...{ gPerCm3: (density.low + density.high) / 2, low: density.low, high: density.high },
  from: sayFibreDensity(density),
})

/**
 * Density of the fibre of a blend.
 * @returns undefined when the blend is not known, or one of its fibres is in no table
 * @example densityOfBlend([{ fibre: 'wool', percent: 80 }, { fibre: 'silk', percent: 20 }], listDensities([])).gPerCm3 // 1.3159
 * Source: `blendDensity`; the sources of the values stand in `from`.
 */
export function densityOfBlend(parts: readonly BlendPart[], densities: readonly FibreDensity[]): Density | undefined {
  const found = new Map(
    parts.flatMap(({ fibre }) => {
      const density = findDensity(densities, fibre)
      return density ? [[fibre, density] as const] : []
    }),
  )
  if (parts.length === 0 || found.size < parts.length) return undefined
  const by = (of: (density: FibreDensity) => number) => blendDensity(parts, (fibre) => of(found.get(fibre)!))
  return {
    gPerCm3: by(({ low, high }) => (low + high) / 2),
    low: by(({ low }) => low),
    high: by(({ high }) => high),
    from: parts
      .map(({ fibre, percent }) => (percent === 100 ? '' : `${percent} % `) + sayFibreDensity(found.get(fibre)!))
      .join(', '),
  }
}

/** `wool 1.31 g/cm³ (Morton and Hearle, …)`; a range is said from end to end, and whose an own value is. */
export function sayFibreDensity({ label, low, high, source, isOwn }: FibreDensity): string {
  const value = low === high ? String(low) : `${low} to ${high}`
  return `${label} ${value} g/cm³ (${isOwn ? 'the maker’s own value: ' : ''}${source})`
}
