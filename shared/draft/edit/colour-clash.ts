import { deltaE2000, labOfHex } from '../../colour/lab.ts'
import type { ColourKey, Draft } from '../draft.ts'

/**
 * Two colours closer than this (CIEDE2000) are hard to tell in a woven pattern. Our own, by eye, on threads a millimetre
 * wide beside each other; no norm speaks of it, and about 1 is the least that is seen between large areas side by side.
 */
export const CLOSEST_READABLE = 12

/** Two colours of a draft that are hard to tell apart. */
export interface ColourClash {
  readonly one: ColourKey
  readonly other: ColourKey
  /** CIEDE2000. */
  readonly difference: number
}

/**
 * The pairs of colours in use (holes and weft) that lie closer than `CLOSEST_READABLE`, the closest first.
 * @throws RangeError when a colour is not `#rrggbb`
 * @example listClashes({ …, colours: { a: #9c3b2e, b: #9c3b30 } }) // [{ one: 'a', other: 'b', difference: 0.9… }]
 * Source: the measure is ISO/CIE 11664-6; the limit is our own.
 */
export function listClashes({ colours, weft, tablets }: Omit<Draft, 'title' | 'picks'>): ColourClash[] {
  const used = new Set([weft, ...tablets.flatMap(({ holes }) => holes)])
  const keys = Object.keys(colours).filter((key) => used.has(key))
  const labs = keys.map((key) => labOfHex(colours[key]!.hex))
  const clashes = keys.flatMap((one, at) =>
    keys.slice(at + 1).map((other, next) => ({ one, other, difference: deltaE2000(labs[at]!, labs[at + 1 + next]!) })),
  )
  return clashes.filter(({ difference }) => difference < CLOSEST_READABLE).sort((a, b) => a.difference - b.difference)
}
