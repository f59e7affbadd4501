import type { Woven } from './woven.ts'

/**
 * Whether the repeat leaves no twist in the bare warp: every tablet makes as many quarter turns forward as back.
 * @example isTwistNeutral({ …, net: Int32Array.of(0, 0) }) // true; with 4 and -4 false, although they add up to 0
 */
export function isTwistNeutral({ net }: Woven): boolean {
  return net.every((quarterTurns) => quarterTurns === 0)
}

/**
 * After how many repeats every tablet is back at its starting hole: 1, 2 or 4.
 * @example net 8, 0, -4: 1; net 2, 4: 2; net 1, 2: 4
 * Source: our own; the order of the net quarter turns in turns of four.
 */
export function closesAfter({ net }: Woven): 1 | 2 | 4 {
  if (net.some((quarterTurns) => quarterTurns % 2 !== 0)) return 4
  return net.some((quarterTurns) => quarterTurns % 4 !== 0) ? 2 : 1
}
