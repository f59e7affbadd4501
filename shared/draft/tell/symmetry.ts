import { findShift, periodOf } from './ring.ts'

/** A table of small numbers, pick by pick, that is repeated without end: turns, or colours of the face. */
export interface RepeatedTable {
  readonly tablets: number
  readonly picks: number
  readonly cells: ArrayLike<number>
}

/** A way to lay the repeated band over itself, other than moving it by whole repeats. */
export interface Move {
  /** Left for right. */
  readonly mirrored: boolean
  /** From its end: the picks in the opposite order. */
  readonly fromEnd: boolean
  /** Turns the other way, or the two colours exchanged. */
  readonly exchanged: boolean
  /**
   * Picks that the band is moved on; the smallest that fits. Pick i, seen so, is pick i + shift; when taken from its end,
   * pick shift - i.
   */
  readonly shift: number
}

export interface Symmetry {
  /** Picks of the shortest piece that gives the whole when it is repeated. */
  readonly period: number
  /** Every kind of move that fits, in the order: mirrored, from its end, exchanged and their combinations. */
  readonly moves: readonly Move[]
}

/**
 * The symmetries of a band that goes on without end: its true period, and every way in which mirroring it left for
 * right, taking it from its end and exchanging (turns the other way, or two colours) lays it over itself, moved by some
 * picks or not. A glide is `mirrored` with a shift that is not 0, half a turn of the band is `mirrored` and `fromEnd`.
 * @param exchange what a cell becomes when exchanged; leave it out when there is nothing to exchange
 * @throws RangeError when the table does not hold picks x tablets cells
 * @example picks 2F, 1F 1B, 2F, 1B 1F: { period: 4, moves: [{ mirrored: true, …, shift: 2 }, { fromEnd: true, … }, …] }
 * Source: our own; the symmetries of a strip (frieze), with one exchange added.
 */
export function findSymmetry(table: RepeatedTable, exchange?: (cell: number) => number): Symmetry {
  const { tablets, picks, cells } = table
  if (cells.length !== tablets * picks) {
    throw new RangeError(`table.cells must hold ${picks} x ${tablets} cells, got ${cells.length}`)
  }
  const ids = new Map<string, number>()
  const ring = idsOfRows(table, ids, false)
  const period = periodOf(ring)
  const rings = new Map([
    [key(false, false), ring],
    [key(true, false), idsOfRows(table, ids, true)],
  ])
  if (exchange) {
    rings.set(key(false, true), idsOfRows(table, ids, false, exchange))
    rings.set(key(true, true), idsOfRows(table, ids, true, exchange))
  }
  const moves: Move[] = []
  for (const { mirrored, fromEnd, exchanged } of KINDS) {
    const seen = rings.get(key(mirrored, exchanged))
    if (seen === undefined) continue
    const shift = fromEnd ? shiftFromEnd(ring, seen) : findShift(ring, seen)
    if (shift !== undefined) moves.push({ mirrored, fromEnd, exchanged, shift: shift % period })
  }
  return { period, moves }
}

const KINDS = [
  { mirrored: true, fromEnd: false, exchanged: false },
  { mirrored: false, fromEnd: true, exchanged: false },
  { mirrored: true, fromEnd: true, exchanged: false },
  { mirrored: false, fromEnd: false, exchanged: true },
  { mirrored: true, fromEnd: false, exchanged: true },
  { mirrored: false, fromEnd: true, exchanged: true },
  { mirrored: true, fromEnd: true, exchanged: true },
] as const

const key = (mirrored: boolean, exchanged: boolean) => `${mirrored} ${exchanged}`

/** Rows that are equal get one number, also from one call to the next with the same `ids`. */
function idsOfRows(
  { tablets, picks, cells }: RepeatedTable,
  ids: Map<string, number>,
  mirrored: boolean,
  exchange = (cell: number) => cell,
): Int32Array {
  const codes = new Array<number>(tablets)
  return Int32Array.from({ length: picks }, (_, pick) => {
    for (let tablet = 0; tablet < tablets; tablet++) {
      const from = mirrored ? tablets - 1 - tablet : tablet
      codes[tablet] = exchange(cells[pick * tablets + from]!) + 8
    }
    const row = String.fromCharCode(...codes)
    if (!ids.has(row)) ids.set(row, ids.size)
    return ids.get(row)!
  })
}

/** The smallest s with seen[i] = ring[s - i] for every i, counted round the ring. */
function shiftFromEnd(ring: Int32Array, seen: Int32Array): number | undefined {
  // With reversed[j] = ring[n - 1 - j], ring[s - i] is reversed[n - 1 - s + i].
  const n = ring.length
  const reversed = ring.toReversed()
  const period = periodOf(ring)
  const shift = findShift(reversed, seen)
  return shift === undefined ? undefined : (((n - 1 - shift) % period) + period) % period
}
