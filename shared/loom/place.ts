import { requireWhole } from '../measure/argument.ts'

/** Where a pick of the piece stands, both counted from 1. */
export interface InRepeat {
  readonly repeat: number
  readonly pick: number
}

/**
 * Where the next pick stands after so many are woven.
 * @param place picks of the piece that are woven, 0 or more
 * @param picks of one repeat, 1 or more
 * @throws RangeError when either is no whole number in its range
 * @example nextInRepeat(72, 72) // { repeat: 2, pick: 1 }: the first repeat is woven
 */
export function nextInRepeat(place: number, picks: number): InRepeat {
  requireWhole('place', place, 0)
  requireWhole('picks', picks, 1)
  return { repeat: Math.floor(place / picks) + 1, pick: (place % picks) + 1 }
}

/** How far the end is, where it is known how long the piece shall be. */
export interface Ahead {
  /** Picks still to weave; below 0 for those woven beyond. */
  readonly picks: number
  /** Whole repeats among them. */
  readonly repeats: number
  /** Picks over those. */
  readonly rest: number
  /** 0 to 1. */
  readonly share: number
}

/**
 * @param goal picks that the piece shall have, 1 or more
 * @example aheadOf(70, 72, 144) // { picks: 74, repeats: 1, rest: 2, share: 0.486… }
 */
export function aheadOf(place: number, picks: number, goal: number): Ahead {
  requireWhole('goal', goal, 1)
  const left = goal - place
  const whole = Math.max(0, left)
  return {
    picks: left,
    repeats: Math.floor(whole / picks),
    rest: whole % picks,
    share: Math.min(1, Math.max(0, place / goal)),
  }
}
