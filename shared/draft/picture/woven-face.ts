import { readHex } from '../../colour/hex.ts'
import { requirePositive } from '../../measure/argument.ts'
import type { Draft } from '../draft.ts'
import type { Woven } from '../woven.ts'
import { type BandLook, drawBand } from './band.ts'
import { svgInMm } from './svg.ts'

export interface WovenFaceOptions extends Omit<BandLook, 'picks'> {
  /** How many picks are drawn; one repeat unless told. */
  readonly picksShown?: number
  /** Or how long a band is drawn, to the nearest whole pick and at least one; the repeat goes on as often as needed. */
  readonly lengthMm?: number
  /** `#rrggbb` behind the band, seen beside the weft loops; nothing unless told. */
  readonly background?: string
  /** Begins every id; give each picture of a page its own. */
  readonly idPrefix: string
  /** What the picture is called; the draft's title and the side unless told. */
  readonly title?: string
}

/**
 * The woven band as a picture that stands by itself, at true size in mm: each tablet a cord of threads that come up at
 * one edge, lie over two picks and go under the next. See `drawBand` for its size and which way round it lies.
 * @param woven what `weave` gave for this draft
 * @returns one `<svg>` element, the same words for the same arguments
 * @throws RangeError when both picksShown and lengthMm are given, background is not `#rrggbb`, or `drawBand` refuses
 * @example wovenFace(draft, woven, { side: 'reverse', tabletWidthMm: 0.8, pickHeightMm: 1.2, lengthMm: 150, idPrefix: 'r' })
 */
export function wovenFace(draft: Draft, woven: Woven, options: WovenFaceOptions): string {
  const { picksShown, lengthMm, background, idPrefix, title, ...look } = options
  if (picksShown !== undefined && lengthMm !== undefined) {
    throw new RangeError(`picksShown and lengthMm cannot both be given, got ${picksShown} and ${lengthMm}`)
  }
  const picks = lengthMm === undefined ? (picksShown ?? woven.picks) : picksIn(lengthMm, options.pickHeightMm)
  const band = drawBand(draft, woven, { ...look, picks }, idPrefix)
  let ground = ''
  if (background !== undefined) {
    readHex(background)
    ground = `<rect width="100%" height="100%" fill="${background}"/>`
  }
  return svgInMm(band.widthMm, band.heightMm, title ?? `${draft.title}, ${options.side}`, ground + band.content)
}

/**
 * How many picks make up a length, to the nearest whole pick and at least one.
 * @throws RangeError when either is not above zero
 * @example picksIn(90, 1.25) // 72
 */
export function picksIn(lengthMm: number, pickHeightMm: number): number {
  return Math.max(1, Math.round(requirePositive('lengthMm', lengthMm) / requirePositive('pickHeightMm', pickHeightMm)))
}
