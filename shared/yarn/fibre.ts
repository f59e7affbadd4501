/** A fibre with its density. A maker keeps values of their own, which count in the place of these: `density.ts`. */
export interface FibreFacts {
  readonly label: string
  /** g/cm³ of the fibre itself at 65 % relative humidity. */
  readonly densityGPerCm3: number
  readonly source: string
}

const MORTON = 'Morton and Hearle, Physical Properties of Textile Fibres, table 5.1, at 65 % humidity'
const BUNSELL =
  'Bunsell (ed.), Handbook of Properties of Textile and Technical Fibres, table 1.1; other tables say 1.4 to 1.51'
const REVIEW = 'a review table of natural fibres'

/** Fibres of historical textiles. Where no density was found in print, the source says so. */
export const FIBRES: Readonly<Record<string, FibreFacts>> = {
  wool: { label: 'wool', densityGPerCm3: 1.31, source: MORTON },
  silk: { label: 'silk', densityGPerCm3: 1.34, source: MORTON },
  linen: { label: 'linen (flax)', densityGPerCm3: 1.53, source: BUNSELL },
  cotton: { label: 'cotton', densityGPerCm3: 1.52, source: `${MORTON}; another table says 1.53` },
  hemp: { label: 'hemp', densityGPerCm3: 1.48, source: REVIEW },
  ramie: { label: 'ramie', densityGPerCm3: 1.5, source: REVIEW },
  nettle: {
    label: 'nettle',
    densityGPerCm3: 1.5,
    source: 'from memory, none found in print: the wall of the fibre; with its hollow it may be half of that',
  },
  hair: {
    label: 'horsehair and other hair',
    densityGPerCm3: 1.31,
    source: 'from memory: keratin; hair with a hollow core is lighter',
  },
  viscose: { label: 'viscose', densityGPerCm3: 1.49, source: MORTON },
  polyester: { label: 'polyester', densityGPerCm3: 1.39, source: MORTON },
  nylon: { label: 'nylon', densityGPerCm3: 1.14, source: MORTON },
}

/** One fibre's share of a yarn, in percent of its mass. */
export interface BlendPart {
  readonly fibre: string
  readonly percent: number
}

/**
 * Density of the fibre of a blend: volumes add, so the shares by mass are divided by their densities.
 * @param blend shares in percent of mass, each more than zero, together 100 (to a thousandth)
 * @param densityOf g/cm³ of a fibre, more than zero
 * @returns g/cm³, unrounded
 * @throws RangeError when there is no part, a share or density is not above zero, or they do not add up to 100
 * @example blendDensity([{ fibre: 'wool', percent: 80 }, { fibre: 'silk', percent: 20 }], densityOf) // 1.3159
 * Source: conservation of mass and volume.
 */
export function blendDensity(blend: readonly BlendPart[], densityOf: (fibre: string) => number): number {
  let percents = 0
  let volume = 0
  for (const { fibre, percent } of blend) {
    const density = densityOf(fibre)
    if (!(percent > 0)) throw new RangeError(`the share of ${fibre} must be more than zero, not ${percent}`)
    if (!(density > 0)) throw new RangeError(`the density of ${fibre} must be more than zero, not ${density}`)
    percents += percent
    volume += percent / density
  }
  if (Math.abs(percents - 100) > 0.001) throw new RangeError(`the shares must add up to 100 %, not ${percents} %`)
  return percents / volume
}
