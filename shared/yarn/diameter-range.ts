import { requireNotNegative } from '../measure/argument.ts'
import { diameterMm } from './diameter.ts'

/** A figure known as a range within which it may lie anywhere. */
export interface Span {
  readonly low: number
  readonly high: number
}

/** A share of fibre in the cross-section of a yarn. */
export type PackingRange = Span

/**
 * Usual packing by how the yarn was made.
 * Source: from memory, no page in print was found; a range each, to be narrowed by the maker.
 */
export const PACKING_RANGES = {
  cotton: { label: 'cotton, ring-spun', low: 0.5, high: 0.6 },
  worsted: { label: 'combed wool, worsted-spun', low: 0.55, high: 0.6 },
  woollen: { label: 'carded wool, woollen-spun', low: 0.3, high: 0.45 },
  filament: { label: 'reeled silk, or linen spun wet', low: 0.6, high: 0.75 },
} as const

export type PackingKind = keyof typeof PACKING_RANGES

/** How a yarn of a fibre may be spun; any way where the fibre is not named here. From memory, as the ranges. */
const SPUN_AS: Readonly<Record<string, readonly PackingKind[]>> = {
  wool: ['woollen', 'worsted'],
  cotton: ['cotton'],
  silk: ['filament'],
  linen: ['filament'],
}

/**
 * Packing of a yarn of which nobody has said how it was spun: all that its fibres may be.
 * @param fibres as a blend names them, one at least
 * @returns the kinds in the order of the table, and the range over all of them
 * @example packingOfFibres(['wool']) // woollen and worsted, 0.3 to 0.6
 */
export function packingOfFibres(fibres: readonly string[]): { kinds: readonly PackingKind[]; packing: PackingRange } {
  const all = Object.keys(PACKING_RANGES) as PackingKind[]
  const may = new Set(fibres.flatMap((fibre) => (Object.hasOwn(SPUN_AS, fibre) ? SPUN_AS[fibre]! : all)))
  const kinds = all.filter((kind) => may.has(kind))
  const ends = (end: 'low' | 'high') => kinds.map((kind) => PACKING_RANGES[kind][end])
  return { kinds, packing: { low: Math.min(...ends('low')), high: Math.max(...ends('high')) } }
}

export interface DiameterEstimate {
  readonly diameterMm: number
  /** Standard uncertainty in mm, of packing, and of density and tex where theirs is known. */
  readonly u: number
  /** Diameters at the two ends of the packing and of the density, in mm. */
  readonly lowMm: number
  readonly highMm: number
}

/**
 * Diameter of a yarn with the uncertainty that comes of not knowing its packing: a rectangular distribution over the
 * range, d going with the inverse root of the packing; combined alike with that of a density that is a range, and with
 * the tex's own, d going with its root.
 * @param tex linear density in tex, more than zero
 * @param fibreDensityGPerCm3 more than zero
 * @param packing range, above 0 and up to 1, the low end not above the high
 * @param uTex standard uncertainty of the tex, zero when it is not known
 * @param density between which values that of the fibre lies; left out where it is one value
 * @returns mm, unrounded, at the middle of the range
 * @throws RangeError when an argument is out of range
 * @example diameterEstimate(25, 1.31, { low: 0.55, high: 0.65 }, 0) // 0.2012 mm, u 0.0048
 * Source: JCGM 100:2008, 4.3.7 (rectangular: half-width / sqrt 3) and 5.1.2 (propagation); the model is `diameterMm`.
 */
export function diameterEstimate(
  tex: number,
  fibreDensityGPerCm3: number,
  packing: PackingRange,
  uTex: number,
  density: Span = { low: fibreDensityGPerCm3, high: fibreDensityGPerCm3 },
): DiameterEstimate {
  const { low, high } = packing
  if (!(low <= high)) throw new RangeError(`packing.low must be at most packing.high, ${high}, not ${low}`)
  if (!(density.low <= density.high))
    throw new RangeError(`density.low must be at most density.high, ${density.high}, not ${density.low}`)
  const middle = (low + high) / 2
  const diameter = diameterMm(tex, fibreDensityGPerCm3, middle)
  const relPacking = (high - low) / 2 / Math.sqrt(3) / middle
  const relDensity = (density.high - density.low) / 2 / Math.sqrt(3) / fibreDensityGPerCm3
  const relTex = requireNotNegative('uTex', uTex) / tex
  return {
    diameterMm: diameter,
    u: (diameter / 2) * Math.hypot(relPacking, relDensity, relTex),
    lowMm: diameterMm(tex, density.high, high),
    highMm: diameterMm(tex, density.low, low),
  }
}
