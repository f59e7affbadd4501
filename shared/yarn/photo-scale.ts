import { requirePositive, requireWhole } from '../measure/argument.ts'

/** What was measured on a photograph: threads side by side, and a scale that lies in the same plane. */
export interface PhotoReading {
  /** Across all threads together, in pixels, more than zero. */
  readonly threadsPx: number
  /** How many threads lie there side by side. */
  readonly threads: number
  /** Of the piece of scale that was measured, in pixels, more than zero. */
  readonly scalePx: number
  /** What that piece is in truth, in mm, more than zero. */
  readonly scaleMm: number
}

/** How far off each end of a distance is taken to be put, in pixels either way: our own judgement. */
export const EDGE_PX = 1

/**
 * Diameter of a thread from a photograph's scale: its share of the scale, in mm.
 * @returns mm, unrounded, and its standard uncertainty from putting the four ends to a pixel either way
 * @throws RangeError when a figure is out of range
 * @example diameterFromPhoto({ threadsPx: 180, threads: 10, scalePx: 600, scaleMm: 10 }) // 0.3 mm, u 0.0014
 * Source: proportion; JCGM 100:2008, 4.3.7 (two ends, each rectangular over ± 1 pixel: sqrt(2/3) pixels) and 5.1.2. That the
 * scale lies as deep in the picture as the threads, and nothing is seen aslant, is an assumption that no figure here covers.
 */
export function diameterFromPhoto({ threadsPx, threads, scalePx, scaleMm }: PhotoReading): {
  readonly diameterMm: number
  readonly u: number
} {
  const share = requirePositive('threadsPx', threadsPx) / requireWhole('threads', threads, 1)
  const diameterMm = (share * requirePositive('scaleMm', scaleMm)) / requirePositive('scalePx', scalePx)
  const uPx = EDGE_PX * Math.sqrt(2 / 3)
  return { diameterMm, u: diameterMm * Math.hypot(uPx / threadsPx, uPx / scalePx) }
}
