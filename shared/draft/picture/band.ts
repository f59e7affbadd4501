import { readHex } from '../../colour/hex.ts'
import { darken } from '../../colour/oklab.ts'
import { requirePositive, requireWhole } from '../../measure/argument.ts'
import type { ColourKey, Draft } from '../draft.ts'
import type { Woven } from '../woven.ts'
import { cordsOf, type Side } from './cord.ts'
import { drawCords } from './cord-drawing.ts'
import { drawFlatCords } from './flat-cord.ts'
import { PICK_UNITS } from './stitch-shape.ts'
import { requireIdPrefix, short } from './svg.ts'
import { drawWeftLoops } from './weft-loop.ts'

/** The inside of a picture, in mm from its upper left corner. */
export interface Drawing {
  readonly widthMm: number
  readonly heightMm: number
  /** SVG elements, to stand in an `<svg>` or a group. */
  readonly content: string
}

/** How a band is drawn. */
export interface BandLook {
  readonly side: Side
  /** Width that one tablet takes in the woven band. */
  readonly tabletWidthMm: number
  /** Length that one pick takes in the woven band. */
  readonly pickHeightMm: number
  /** How many picks; beyond the draft's own the repeat goes on. */
  readonly picks: number
  /** Upright as it stands on the loom, pick 1 at the foot; or across a page, pick 1 at the left. Up unless told. */
  readonly lie?: 'up' | 'across'
  /** 'low' draws slanting stitches in flat colour, for pictures so small that nobody sees a thread. */
  readonly detail?: 'high' | 'low'
}

/** More stitches than this in one picture help nobody and make a browser stop. */
export const MOST_DRAWN_STITCHES = 1_000_000

/** How far the loops of the weft stand out at each edge, as a share of a pick or a tablet, whichever is smaller. */
const LOOP_SHARE = 0.22

/**
 * How far the weft stands out at each edge of the drawn band, in mm.
 * @throws RangeError when a size is not above zero
 * @example weftLoopMm(1, 0.5) // 0.11
 * Source: our own, by eye.
 */
export function weftLoopMm(tabletWidthMm: number, pickHeightMm: number): number {
  requirePositive('tabletWidthMm', tabletWidthMm)
  requirePositive('pickHeightMm', pickHeightMm)
  return LOOP_SHARE * Math.min(tabletWidthMm, pickHeightMm)
}

/**
 * Draws a band at true size. Its breadth is tablets x `tabletWidthMm` and a weft loop at each edge (`weftLoopMm`), its
 * length picks x `pickHeightMm`. On the face tablet 1 is at the left, or on top when it lies across; the reverse is the
 * same band turned over about its warp, so there tablet 1 is at the right, or at the foot.
 * @param woven what `weave` gave for this draft
 * @param idPrefix begins every id inside; give each picture of a page its own
 * @throws RangeError when a size is not above zero, picks is not a whole number above 0, a colour is not `#rrggbb` or
 *   missing, there are over a million stitches, or `woven` belongs to another draft
 * @example drawBand(draft, woven, { side: 'face', tabletWidthMm: 1, pickHeightMm: 0.9, picks: 100 }, 'a').heightMm // 90
 */
export function drawBand(draft: Draft, woven: Woven, look: BandLook, idPrefix: string): Drawing {
  const { side, tabletWidthMm, pickHeightMm, picks } = look
  requireIdPrefix(idPrefix)
  const loopMm = weftLoopMm(tabletWidthMm, pickHeightMm)
  requireWhole('picks', picks, 1)
  if (picks * draft.tablets.length > MOST_DRAWN_STITCHES) {
    throw new RangeError(`picks x tablets must be at most ${MOST_DRAWN_STITCHES}, not ${picks * draft.tablets.length}`)
  }
  const palette = paletteOf(draft)
  const mmPerUnit = pickHeightMm / PICK_UNITS
  const cordUnits = tabletWidthMm / mmPerUnit
  const bandMm = draft.tablets.length * tabletWidthMm
  const lengthMm = picks * pickHeightMm
  const cords = cordsOf(draft, woven, side, picks)
  const [width, height] = [short(bandMm / mmPerUnit, 1), picks * PICK_UNITS]
  const clip = `${idPrefix}-b`
  const drawn =
    look.detail === 'low' ? drawFlatCords(cords, palette, cordUnits) : drawCords(cords, palette, cordUnits, idPrefix)
  const scale = short(mmPerUnit, 8)
  const lie =
    look.lie === 'across'
      ? `matrix(0 ${scale} ${scale} 0 0 ${short(loopMm, 4)})`
      : `matrix(${scale} 0 0 -${scale} ${short(loopMm, 4)} ${short(lengthMm, 4)})`
  const content =
    `<g transform="${lie}"><clipPath id="${clip}"><path d="M-${PICK_UNITS} 0H${width}h${PICK_UNITS}v${height}H-${PICK_UNITS}Z"/></clipPath>` +
    `<g clip-path="url(#${clip})">${drawWeftLoops(picks, bandMm / mmPerUnit, loopMm / mmPerUnit, palette.weft, side, idPrefix)}` +
    `<path fill="${darken(palette.weft, 0.5)}" d="M0 0H${width}V${height}H0Z"/>${drawn}</g></g>`
  const acrossMm = bandMm + 2 * loopMm
  return look.lie === 'across'
    ? { widthMm: lengthMm, heightMm: acrossMm, content }
    : { widthMm: acrossMm, heightMm: lengthMm, content }
}

/** The colours of a draft that can stand in an SVG attribute. */
function paletteOf(draft: Draft): { hexOf: ReadonlyMap<ColourKey, string>; weft: string } {
  const hexOf = new Map<ColourKey, string>()
  const used = new Set([draft.weft, ...draft.tablets.flatMap((tablet) => tablet.holes)])
  for (const key of used) {
    if (key === null) continue
    const colour = Object.hasOwn(draft.colours, key) ? draft.colours[key] : undefined
    if (colour === undefined) throw new RangeError(`draft.colours must hold every colour used, not ${key}`)
    readHex(colour.hex)
    hexOf.set(key, colour.hex.toLowerCase())
  }
  return { hexOf, weft: hexOf.get(draft.weft)! }
}
