import type { ColourKey } from '../draft.ts'

/** How a stitch is seen to lean: like "/" it climbs to the weaver's right, like "\" to the weaver's left. */
export type ObservedSlant = '/' | '\\'

/**
 * What somebody saw on the face of a band, tablet by tablet and pick by pick. Picks are rows, pick 1 first and nearest
 * the weaver; within a row tablet 1 is leftmost. Plain lists, so that it travels as JSON.
 */
export interface ObservedFace {
  /** Picks x tablets; null where the colour is not legible. Every row is as long as the first. */
  readonly cells: readonly (readonly (ColourKey | null)[])[]
  /** The same shape, where any slant was legible; null where it was not. */
  readonly slants?: readonly (readonly (ObservedSlant | null)[])[]
}

/**
 * Tablets and picks of an observed face.
 * @throws RangeError when it has no cell, or a row of another length
 * @example sizeOfObserved({ cells: [['m', null]] }) // { tablets: 2, picks: 1 }
 */
export function sizeOfObserved({ cells, slants }: ObservedFace): { tablets: number; picks: number } {
  const picks = cells.length
  const tablets = cells[0]?.length ?? 0
  if (tablets === 0) throw new RangeError('observed.cells must have at least one pick of at least one tablet')
  requireRows('cells', cells, picks, tablets)
  if (slants !== undefined) requireRows('slants', slants, picks, tablets)
  return { tablets, picks }
}

function requireRows(name: string, rows: readonly (readonly unknown[])[], picks: number, tablets: number): void {
  if (rows.length !== picks) throw new RangeError(`observed.${name} must have ${picks} picks, got ${rows.length}`)
  const odd = rows.findIndex((row) => row.length !== tablets)
  if (odd >= 0) {
    throw new RangeError(`observed.${name}[${odd}] must have ${tablets} tablets, got ${rows[odd]!.length}`)
  }
}

/**
 * How many cells of an observed face can be read.
 * @returns `legible` of `cells`, and `slants`: how many slants are legible
 * @example countLegible({ cells: [['m', null]] }) // { cells: 2, legible: 1, slants: 0 }
 */
export function countLegible({ cells, slants = [] }: ObservedFace): { cells: number; legible: number; slants: number } {
  const count = (rows: readonly (readonly unknown[])[]) =>
    rows.reduce((sum, row) => sum + row.filter((one) => one !== null).length, 0)
  return { cells: cells.reduce((sum, row) => sum + row.length, 0), legible: count(cells), slants: count(slants) }
}
