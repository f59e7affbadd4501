import { type Clusters, listKnown } from './cluster.ts'

/** How the cells of each colour scatter about it, per axis of CIELAB, three numbers a colour. */
export interface Scatter {
  readonly deviations: Float64Array
  /** Cells of each colour, as shares of all; they add up to 1. */
  readonly shares: Float64Array
}

/**
 * The least scatter believed in, in CIELAB, as a share of the way to the nearest other colour and within these bounds:
 * threads lie in light and shade, and where colours are far apart nothing is lost by allowing for it.
 */
const LEAST_SHARE_OF_WAY = 0.06
const LEAST_DEVIATION = [1.5, 2.5] as const
/** A colour of few cells borrows the scatter of all, as if it had so many cells more. */
const BORROWED = 12
/** What is no colour of the band (a stain, a hole) may have any colour: one cell in twenty, anywhere in CIELAB. */
const STRANGER_SHARE = 0.05
const LAB_VOLUME = 100 * 120 * 120

/**
 * How far the cells of each colour scatter about its centre, by the median of their distances, so that strangers among
 * them do not count.
 * @example scatterOf(labs, clusters).deviations[0] // 2.1: how far the first colour scatters in lightness
 * Source: 1.4826 x the median of absolute deviations, the usual stand-in for a standard deviation.
 */
export function scatterOf(labs: Float64Array, { centres, labels }: Clusters): Scatter {
  const k = centres.length / 3
  const cells = listKnown(labs)
  const deviations = new Float64Array(k * 3)
  const counts = new Float64Array(k)
  for (const cell of cells) counts[labels[cell]!]!++
  for (let axis = 0; axis < 3; axis++) {
    const far = (cell: number) => Math.abs(labs[cell * 3 + axis]! - centres[labels[cell]! * 3 + axis]!)
    const all = robust(Array.from(cells, far))
    for (let colour = 0; colour < k; colour++) {
      const own = robust(
        Array.from(
          cells.filter((cell) => labels[cell] === colour),
          far,
        ),
      )
      const square = (counts[colour]! * own ** 2 + BORROWED * all ** 2) / (counts[colour]! + BORROWED)
      deviations[colour * 3 + axis] = Math.max(leastDeviation(centres, colour), Math.sqrt(square))
    }
  }
  return { deviations, shares: counts.map((count) => count / Math.max(1, cells.length)) }
}

function leastDeviation(centres: Float64Array, colour: number): number {
  let nearest = Infinity
  for (let other = 0; other * 3 < centres.length; other++) {
    const way = [0, 1, 2].map((axis) => centres[other * 3 + axis]! - centres[colour * 3 + axis]!)
    if (other !== colour) nearest = Math.min(nearest, Math.hypot(...way))
  }
  const [least, most] = LEAST_DEVIATION
  return Math.min(most, Math.max(least, LEAST_SHARE_OF_WAY * nearest))
}

function robust(far: number[]): number {
  return far.length === 0 ? 0 : 1.4826 * far.sort((a, b) => a - b)[Math.floor(far.length / 2)]!
}

/**
 * How sure each cell's colour is: the share of its colour among all that the cell could be, each colour of the band by
 * its distance in its own scatter, and a stranger of any colour beside them. Near 1 for a cell close to one colour;
 * about a half between two; near 0 for one that is far from all.
 * @param labs CIELAB of each cell
 * @param blur how uncertain each cell's own colour is, in CIELAB, besides the scatter of its colour; 0 for a clean one
 * @returns the likeliest colour of each cell (-1 where it has none) and its confidence, 0 to 1
 * @example confidenceOf(labs, clusters, scatter, blur).confidence[0] // 0.998
 * Source: our own; Bayes' rule over normal distributions and an even one.
 */
export function confidenceOf(
  labs: Float64Array,
  clusters: Clusters,
  { deviations, shares }: Scatter,
  blur: Float64Array,
): { readonly labels: Int8Array; readonly confidence: Float64Array } {
  const k = shares.length
  const labels = new Int8Array(labs.length / 3).fill(-1)
  const confidence = new Float64Array(labels.length)
  for (const cell of listKnown(labs)) {
    let [all, best] = [STRANGER_SHARE / LAB_VOLUME, 0]
    for (let colour = 0; colour < k; colour++) {
      let [square, volume] = [0, (2 * Math.PI) ** 1.5]
      for (let axis = 0; axis < 3; axis++) {
        const deviation = Math.hypot(deviations[colour * 3 + axis]!, blur[cell]!)
        square += ((labs[cell * 3 + axis]! - clusters.centres[colour * 3 + axis]!) / deviation) ** 2
        volume *= deviation
      }
      const likely = ((shares[colour]! + 0.01) * Math.exp(-square / 2)) / volume
      all += likely
      if (likely > best) [best, labels[cell]] = [likely, colour]
    }
    confidence[cell] = best / all
  }
  return { labels, confidence }
}
