import type { ColourKey } from '../draft/draft.ts'
import type { ObservedFace, ObservedSlant } from '../draft/infer/observed.ts'
import type { ReadColours } from './read-colours.ts'

/** A cell that a person looked at and decided: a key, or null for not legible. */
export type Corrections = ReadonlyMap<number, ColourKey | null>

/**
 * The observed face: keys for the colours found, and not legible wherever the confidence is low.
 * @param keys the key of each colour found, in their order; null for a colour that is none (a hole, a stain)
 * @param least the least confidence taken, 0 to 1
 * @param corrections by cell, `pick * tablets + tablet`: taken whatever the picture says
 * @param slants of each cell, where they are to go along as evidence
 * @throws RangeError when there are not as many keys as colours
 * @example toObservedFace(read, ['w', 'm', null], 0.9, new Map([[4, 'm']]))
 */
export function toObservedFace(
  read: ReadColours,
  keys: readonly (ColourKey | null)[],
  least: number,
  corrections: Corrections = new Map(),
  slants?: readonly (ObservedSlant | null)[],
): ObservedFace {
  const { tablets, picks, labels, confidence } = read
  if (keys.length !== read.colours.length) {
    throw new RangeError(`keys must hold one for each of ${read.colours.length} colours, not ${keys.length}`)
  }
  const keyAt = (cell: number) => {
    const corrected = corrections.get(cell)
    if (corrected !== undefined) return corrected
    return labels[cell]! < 0 || confidence[cell]! < least ? null : keys[labels[cell]!]!
  }
  const rows = <T>(of: (cell: number) => T) =>
    Array.from({ length: picks }, (_, pick) => Array.from({ length: tablets }, (_, at) => of(pick * tablets + at)))
  const cells = rows(keyAt)
  return slants === undefined ? { cells } : { cells, slants: rows((cell) => slants[cell] ?? null) }
}
