import { checkBorders } from './check-borders.ts'
import { checkFloats, checkHidden, checkSeam } from './check-floats.ts'
import { checkParity } from './check-parity.ts'
import type { Check } from './check-result.ts'
import { checkClosure, checkStill, checkTwist } from './check-turning.ts'
import type { Draft } from './draft.ts'
import { listStillTablets } from './turn-habits.ts'
import type { Turning, Woven } from './woven.ts'

/**
 * Looks a draft over and says in plain words what a weaver would want to know before winding the warp.
 * @param turning the draft's turning, `turningOf(draft)`
 * @param woven what it weaves, `weave(draft, turning)`
 * @returns twist, closure, floats, borders and parity always; floats over the seam between repeats, tablets that never
 * turn and threads that never show only when there are any
 * @throws RangeError when draft, turning and woven are not of the same size
 * @example checkDraft(draft, turning, woven)[0].text // 'Not twist-neutral. Tablets 1, 2, 23, 24: 72 quarter turns …'
 * Source: our own; that floats over 3 picks deserve a look is common practice.
 */
export function checkDraft(draft: Draft, turning: Turning, woven: Woven): Check[] {
  if (turning.tablets !== woven.tablets || turning.picks !== woven.picks) {
    const sizes = `${turning.tablets} x ${turning.picks} and ${woven.tablets} x ${woven.picks}`
    throw new RangeError(`turning and woven must be of one size, got ${sizes}`)
  }
  const still = listStillTablets(turning)
  return [
    checkTwist(woven),
    checkClosure(woven),
    checkStill(still, turning.picks),
    checkFloats(draft, woven, still),
    checkSeam(draft, woven, still),
    checkHidden(draft, woven, still),
    checkBorders(draft, turning, woven),
    checkParity(turning),
  ].filter((check) => check !== undefined)
}
