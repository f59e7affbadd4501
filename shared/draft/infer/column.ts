import type { ColourKey, Tablet } from '../draft.ts'
import type { ObservedSlant } from './observed.ts'
import type { KnownTablet, Requirements } from './request.ts'

/** One tablet's part of a request. */
export interface TabletTask {
  readonly known: KnownTablet
  /** What was seen of it, pick by pick. */
  readonly cells: readonly (ColourKey | null)[]
  readonly slants: readonly (ObservedSlant | null)[] | undefined
  readonly weft: ColourKey | undefined
  readonly require: Requirements
  /** Named for a hole when nothing of the tablet is legible. */
  readonly anyColour: ColourKey
}

/** The colours that holes may have, null among them for an empty hole, and how often each was seen. */
export interface Palette {
  readonly keys: readonly (ColourKey | null)[]
  readonly seen: readonly number[]
  readonly legible: number
}

/**
 * The palette of a tablet: the colours of its holes; or, when these are not known, the colours seen in it, the commonest
 * first. A colour that was not seen in it could only add mismatches.
 * @example of cells m w w null with unknown holes: keys ['w', 'm'], seen [2, 1], legible 3
 */
export function paletteOf({ known, cells, anyColour }: TabletTask): Palette {
  const counts = new Map<ColourKey, number>()
  for (const key of cells) if (key !== null) counts.set(key, (counts.get(key) ?? 0) + 1)
  const legible = [...counts.values()].reduce((sum, count) => sum + count, 0)
  const common = [...counts.keys()].sort((a, b) => counts.get(b)! - counts.get(a)! || (a < b ? -1 : 1))
  const keys = known.holes ? [...new Set(known.holes)] : common.length > 0 ? common : [anyColour]
  return { keys, seen: keys.map((key) => (key === null ? 0 : (counts.get(key) ?? 0))), legible }
}

/**
 * What each colour of the palette costs at each pick: one mismatch where another colour is legible. An empty hole shows
 * the weft where that is known, and agrees with nothing legible where it is not.
 * @param mismatch what one mismatch costs
 * @returns picks x palette
 */
export function colourCosts({ cells, weft }: TabletTask, { keys }: Palette, mismatch: number): Int32Array {
  const costs = new Int32Array(cells.length * keys.length)
  cells.forEach((key, pick) =>
    keys.forEach((hole, kind) => {
      if (key !== null && key !== (hole ?? weft)) costs[pick * keys.length + kind] = mismatch
    }),
  )
  return costs
}

/**
 * What turning forward and back costs at each pick: a legible slant that leans the other way is one mismatch, no more
 * and no less than a colour that differs, for both are one thing that somebody saw.
 * @returns picks x 2, forward first
 */
export function slantCosts(
  { slants, cells }: TabletTask,
  threading: Tablet['threading'],
  mismatch: number,
): Int32Array {
  const costs = new Int32Array(cells.length * 2)
  slants?.forEach((slant, pick) => {
    if (slant === null) return
    const isForward = (slant === '/') === (threading === 'S')
    costs[pick * 2 + (isForward ? 1 : 0)] = mismatch
  })
  return costs
}
