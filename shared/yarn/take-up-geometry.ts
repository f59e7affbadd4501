import { requireNotNegative, requirePositive } from '../measure/argument.ts'
import type { Turning } from '../draft/woven.ts'

/** The threads of a cord of four, and how close its picks lie. */
export interface CordThreads {
  /** Band woven by one pick, in mm, more than zero. */
  readonly pickMm: number
  /** Diameter of a warp thread, in mm, more than zero. */
  readonly warpMm: number
  /** Diameter of the weft as it lies in the shed, in mm, zero or more. */
  readonly weftMm: number
}

/**
 * Take-up that the geometry of twined cords gives, tablet by tablet. The threads of a tablet run round the weft on a circle
 * as wide as a warp thread and a weft together; a quarter turn carries each a quarter of it round while the band grows
 * by a pick, and an idle tablet lets its threads run straight. So a pick takes sqrt(pick² + (quarters x pi D / 4)²).
 * @param turning the repeat; half turns count as two quarters, either way alike
 * @param threads diameters and pick, in mm
 * @returns percent of the woven length for every tablet from the left, the mean over the repeat, unrounded; zero for one
 *   that never turns
 * @throws RangeError when a size is out of range
 * @example a tablet that turns at every pick, pick 1 mm, threads of 0.4 and 0.4 mm: 18.1 %
 * Source: our own, from the helix: for steady turning the factor is 1 / cos of the angle that `twistAngle` gives. Threads
 * flatten, and a beat presses them, so it is a start to be corrected by what was measured.
 */
export function cordTakeUp(turning: Turning, { pickMm, warpMm, weftMm }: CordThreads): number[] {
  requirePositive('pickMm', pickMm)
  const across = requirePositive('warpMm', warpMm) + requireNotNegative('weftMm', weftMm)
  const pathOf = [0, 1, 2].map((quarters) => Math.hypot(pickMm, (quarters * Math.PI * across) / 4))
  const paths = new Float64Array(turning.tablets)
  for (let at = 0; at < turning.turns.length; at++)
    paths[at % turning.tablets]! += pathOf[Math.abs(turning.turns[at]!)]!
  return [...paths].map((path) => (turning.picks === 0 ? 0 : 100 * (path / (turning.picks * pickMm) - 1)))
}
