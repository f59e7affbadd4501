import { deltaE2000, hexOfLab, type Lab, labOfLinear } from '../colour/lab.ts'
import { clusterColours, type Clusters, crowdOf, MOST_FOUND } from './cluster.ts'
import { confidenceOf, type Scatter, scatterOf } from './confidence.ts'
import { lightOfColours, lightOfNeighbours, type LightSurface, surfaceOf } from './light.ts'
import type { CellSamples } from './sample.ts'

/** A colour that was found in a band. */
export interface FoundColour {
  readonly lab: Lab
  /** `#rrggbb` in the mean light over the band. */
  readonly hex: string
  /** How many cells are of this colour rather than of any other or of none. */
  readonly cells: number
}

/** Every cell with the likeliest of the colours found. */
export interface ReadColours {
  readonly tablets: number
  readonly picks: number
  /** The largest first. */
  readonly colours: readonly FoundColour[]
  /** Place in `colours` of each cell, `[pick * tablets + tablet]`; -1 where the cell is outside the picture. */
  readonly labels: Int8Array
  /** 0 to 1 for each cell. */
  readonly confidence: Float64Array
  /** The brightest cell's light over the darkest one's, as corrected for. */
  readonly lightRatio: number
}

/** Light and colours are found in turns: each helps the other. */
const ROUNDS = 4

/**
 * Sorts the cells of a band into k colours, with the uneven light taken off.
 * @param samples what `sampleCells` gave
 * @param k how many colours, 1 to 8; holes and stains of one colour count as one, and may be named as none afterwards
 * @throws RangeError when k is out of range or fewer cells than that lie in the picture
 * @example readColours(samples, 3).colours.map(({ hex }) => hex) // ['#e5dcc6', '#98402f', '#31496a']
 * Source: our own; the light is one factor for red, green and blue, of second degree over the band.
 */
export function readColours(samples: CellSamples, k: number): ReadColours {
  const few = thinned(samples, MOST_SOLVED)
  const found = solve(few, k)
  const { labels, confidence, clusters, light } = few === samples ? found : spreadOver(samples, found)
  const colours = Array.from({ length: k }, (_, colour) => {
    const lab = labAt(clusters.centres, colour)
    return { lab, hex: hexOfLab(lab), cells: countSure({ labels, confidence }, colour) }
  })
  return { tablets: samples.tablets, picks: samples.picks, colours, labels, confidence, lightRatio: light.ratio }
}

/** Light and colours are found by about so many cells at most: more say the same again, at the cost of waiting. */
const MOST_SOLVED = 12_000
/** And to say how many colours there are, which is to find them eight times, by so many. */
const MOST_PROPOSED = 4000

/** Whole picks, spread over the band, but not evenly: a step that divides the repeat would see some of its picks only. */
function thinned(samples: CellSamples, most: number): CellSamples {
  const { tablets, picks, light, spread } = samples
  const count = Math.max(2, Math.floor(most / tablets))
  if (tablets * picks <= most || count >= picks) return samples
  const few = {
    ...{ tablets, picks: count },
    light: new Float64Array(tablets * count * 3),
    spread: new Float64Array(tablets * count),
  }
  for (let at = 0; at < count; at++) {
    const pick = Math.floor(((at + ((at * 0.6180339887) % 1)) * picks) / count)
    few.light.set(light.subarray(pick * tablets * 3, (pick + 1) * tablets * 3), at * tablets * 3)
    few.spread.set(spread.subarray(pick * tablets, (pick + 1) * tablets), at * tablets)
  }
  return few
}

/** What was found by some picks, said of all. */
function spreadOver(samples: CellSamples, { clusters, scatter, light: few }: ReturnType<typeof solve>) {
  const light = surfaceOf(few.coefficients, samples.tablets, samples.picks)
  const labs = labsUnder(samples.light, light)
  return { clusters, light, ...confidenceOf(labs, clusters, scatter, blurOf(samples.spread)) }
}

/** The colours under a first guess at the light, which is the same for any number of them. */
function begin(samples: CellSamples) {
  return seenUnder(samples, lightOfNeighbours(samples.light, samples.tablets, samples.picks))
}

function seenUnder(samples: CellSamples, light: LightSurface) {
  const labs = labsUnder(samples.light, light)
  return { light, labs, crowd: crowdOf(labs) }
}

function solve(samples: CellSamples, k: number, begun = begin(samples)) {
  const { tablets, picks } = samples
  const blur = blurOf(samples.spread)
  const under = ({ light, labs, crowd }: ReturnType<typeof seenUnder>) => {
    const clusters = clusterColours(labs, k, crowd)
    const scatter = scatterOf(labs, clusters)
    return { light, clusters, scatter, ...confidenceOf(labs, clusters, scatter, blur) }
  }
  let found = under(begun)
  for (let round = 1; round < ROUNDS; round++) {
    const ratios = ratiosOf(samples, found.clusters, found.labels)
    found = under(seenUnder(samples, lightOfColours(ratios, found.confidence, tablets, picks)))
  }
  return found
}

function countSure({ labels, confidence }: Pick<ReadColours, 'labels' | 'confidence'>, colour: number): number {
  return labels.reduce((count, label, cell) => count + (label === colour && confidence[cell]! > 0.5 ? 1 : 0), 0)
}

/** How far apart two groups must lie to be two colours: in units of their scatter along the line between them. */
const APART = 4
/** And as colours look: two shades nearer than this are light and shade on one thread, by CIEDE2000. */
const LEAST_DIFFERENCE = 6
/** The smallest group that is offered as a colour, as a share of the cells. */
const LEAST_SHARE = 0.01

/**
 * How many colours the cells seem to have: the most for which all groups lie apart, by four times their scatter and by 6
 * of CIEDE2000, and hold at least a hundredth of the cells. A proposal: two shades of one dye count as one here, and a
 * stain of one even shade counts as a colour.
 * @returns 1 to 8
 * @throws RangeError when no cell lies in the picture
 * @example proposeColours(samples) // 3
 * Source: our own.
 */
export function proposeColours(samples: CellSamples): number {
  const few = thinned(samples, MOST_PROPOSED)
  const cells = few.spread.reduce((count, spread) => count + (Number.isNaN(spread) ? 0 : 1), 0)
  if (cells < 1) throw new RangeError('samples must hold at least 1 cell with a colour, not 0')
  const begun = begin(few)
  let proposed = 1
  for (let k = 2; k <= Math.min(MOST_FOUND, cells); k++) {
    const { clusters, scatter } = solve(few, k, begun)
    if (areApart(clusters, scatter, cells)) proposed = k
  }
  return proposed
}

function areApart(clusters: Clusters, { deviations, shares }: Scatter, cells: number): boolean {
  if (shares.some((share) => share < LEAST_SHARE || share * cells < 3)) return false
  for (let one = 0; one < shares.length; one++) {
    for (let other = 0; other < one; other++) {
      const [from, to] = [labAt(clusters.centres, one), labAt(clusters.centres, other)]
      if (deltaE2000(from, to) < LEAST_DIFFERENCE) return false
      const way = [0, 1, 2].map((axis) => to[axis]! - from[axis]!)
      const length = Math.hypot(...way)
      const along = (colour: number) =>
        Math.hypot(...way.map((step, axis) => (step / length) * deviations[colour * 3 + axis]!))
      if (!(length > APART * Math.sqrt((along(one) ** 2 + along(other) ** 2) / 2))) return false
    }
  }
  return true
}

const labAt = (centres: Float64Array, colour: number): Lab => [
  centres[colour * 3]!,
  centres[colour * 3 + 1]!,
  centres[colour * 3 + 2]!,
]

function labsUnder(light: Float64Array, { logLight }: LightSurface): Float64Array {
  const labs = new Float64Array(light.length)
  for (let cell = 0; cell < logLight.length; cell++) {
    const factor = Math.exp(-logLight[cell]!)
    const [r, g, b] = [light[cell * 3]! * factor, light[cell * 3 + 1]! * factor, light[cell * 3 + 2]! * factor]
    labs.set(Number.isNaN(r + g + b) ? [Number.NaN, Number.NaN, Number.NaN] : labOfLinear(r, g, b), cell * 3)
  }
  return labs
}

/** A cell whose inside is mixed says less of its colour; what all cells have in light and shade is no mixture. */
function blurOf(spread: Float64Array): Float64Array {
  const known = [...spread].filter((one) => !Number.isNaN(one)).sort((a, b) => a - b)
  const usual = known[Math.floor(known.length * 0.75)] ?? 0
  return spread.map((one) => (Number.isNaN(one) ? 0 : Math.max(0, one - usual) / 2))
}

function ratiosOf({ light }: CellSamples, { centres }: Clusters, labels: Int8Array): Float64Array {
  const colours = Array.from({ length: centres.length / 3 }, (_, colour) =>
    Math.log(luminanceOfL(centres[colour * 3]!)),
  )
  return Float64Array.from(labels, (label, cell) => {
    if (label < 0) return Number.NaN
    const luminance = 0.2126 * light[cell * 3]! + 0.7152 * light[cell * 3 + 1]! + 0.0722 * light[cell * 3 + 2]!
    return Math.log(Math.max(luminance, 1e-4)) - colours[label]!
  })
}

/** Luminance of a CIELAB lightness, 0 to 1. Source: ISO/CIE 11664-4. */
function luminanceOfL(lightness: number): number {
  const luminance = lightness > 8 ? ((lightness + 16) / 116) ** 3 : (lightness * 27) / 24389
  return Math.max(luminance, 1e-4)
}
