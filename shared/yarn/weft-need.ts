import { requireNotNegative, requirePositive, requireWhole } from '../measure/argument.ts'

/**
 * Weft that a band takes: every pick crosses the band and goes back by the edge to the next.
 * @param need picks (a whole number, zero or more), the band's width and the distance from pick to pick in mm (more than
 *   zero), passages of weft in a pick (1 where one thread goes to and fro, 2 where two go across), and an allowance in
 *   percent for what is drawn in and for the ends, zero or more
 * @returns metres, unrounded
 * @throws RangeError when a figure is out of range
 * @example weftLengthM({ picks: 1000, widthMm: 20, pickMm: 1, passes: 1, allowancePercent: 0 }) // 21
 * Source: our own model: in a warp-faced band the weft lies straight across, hidden between the layers of the warp.
 */
export function weftLengthM(need: {
  readonly picks: number
  readonly widthMm: number
  readonly pickMm: number
  readonly passes: number
  readonly allowancePercent: number
}): number {
  requireWhole('picks', need.picks, 0)
  requireWhole('passes', need.passes, 1)
  const acrossMm = requirePositive('widthMm', need.widthMm) + requirePositive('pickMm', need.pickMm)
  const allowance = 1 + requireNotNegative('allowancePercent', need.allowancePercent) / 100
  return (need.picks * need.passes * acrossMm * allowance) / 1000
}
