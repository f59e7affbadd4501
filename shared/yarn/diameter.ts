import { requirePositive } from '../measure/argument.ts'

/**
 * Diameter of a yarn taken as a round cylinder: d = sqrt(4 T / (pi rho phi)), that is
 * 0.0356825 x sqrt(tex / (rho phi)) in mm.
 * @param tex linear density in tex, more than zero
 * @param fibreDensityGPerCm3 density of the fibre itself, more than zero: wool 1.31, silk 1.34, cotton 1.52
 * @param packing share of the yarn's cross-section that is fibre, above 0 and up to 1: near 0.6 for a firm spun yarn
 * @returns mm, unrounded. A real thread flattens in the cloth, so take it for a guide
 * @throws RangeError when an argument is out of range
 * @example diameterMm(25, 1.31, 0.6) // 0.20124, a wool yarn
 * Source: geometry. Densities at 65 % humidity: Morton and Hearle, Physical Properties of Textile Fibres, table 5.1.
 */
export function diameterMm(tex: number, fibreDensityGPerCm3: number, packing: number): number {
  requirePositive('tex', tex)
  return Math.sqrt((0.004 * tex) / (Math.PI * yarnDensity(fibreDensityGPerCm3, packing)))
}

/**
 * Linear density of a round yarn of a given diameter; the inverse of `diameterMm`.
 * @param diameter in mm, more than zero
 * @param fibreDensityGPerCm3 density of the fibre itself, more than zero
 * @param packing share of the yarn's cross-section that is fibre, above 0 and up to 1
 * @returns tex, unrounded
 * @throws RangeError when an argument is out of range
 * @example texFromDiameter(0.20124, 1.31, 0.6) // 25.0
 * Source: geometry.
 */
export function texFromDiameter(diameter: number, fibreDensityGPerCm3: number, packing: number): number {
  requirePositive('diameter', diameter)
  return (diameter * diameter * Math.PI * yarnDensity(fibreDensityGPerCm3, packing)) / 0.004
}

function yarnDensity(fibreDensityGPerCm3: number, packing: number): number {
  requirePositive('fibreDensityGPerCm3', fibreDensityGPerCm3)
  if (!(packing > 0 && packing <= 1)) throw new RangeError(`packing must be above 0 and at most 1, not ${packing}`)
  return fibreDensityGPerCm3 * packing
}
