import { requirePositive } from '../../measure/argument.ts'
import type { Draft } from '../draft.ts'
import type { Woven } from '../woven.ts'
import { type BandLook, drawBand } from './band.ts'
import { roundLengthMm, scaleBar } from './scale-bar.ts'
import { escapeXml, requireIdPrefix, short, svgInMm } from './svg.ts'
import { picksIn } from './woven-face.ts'

/** One band among several, at its own measure. */
export interface BandAtScale {
  /** Which band this is; shown to those who cannot see the picture, and for the page to print beside the letter. */
  readonly label: string
  readonly draft: Draft
  readonly woven: Woven
  readonly side: BandLook['side']
  /** Width of the woven band without the loops of the weft, as measured or asked for. */
  readonly widthMm: number
  readonly pickHeightMm: number
  /** How much of it is drawn, to the nearest whole pick. */
  readonly lengthMm: number
  readonly detail?: BandLook['detail']
}

export interface BandsOptions {
  /** Begins every id; give each picture of a page its own. */
  readonly idPrefix: string
  /** What the picture is called. */
  readonly title: string
  /** Between two bands, 8 mm unless told. */
  readonly gapMm?: number
}

/** A picture of several bands, and what the page has to write beside it. */
export interface BandsPicture {
  readonly svg: string
  /** For each band the letter under it, and where it stands in the picture. */
  readonly marks: readonly {
    readonly letter: string
    readonly label: string
    readonly xMm: number
    readonly widthMm: number
  }[]
  readonly scaleMm: number
}

const MARK_MM = 6

/**
 * Several bands side by side at true size, their first picks on one line, with a letter under each and one scale bar.
 * @param bands in the order from left to right, at least one
 * @returns the picture in mm, and its letters with their labels
 * @throws RangeError when there is no band or a size is out of range; see `drawBand`
 * @example bandsAtOneScale([original, replica], { idPrefix: 'pair', title: 'Original and replica' }).marks[1].letter // 'b'
 * Source: our own.
 */
export function bandsAtOneScale(bands: readonly BandAtScale[], options: BandsOptions): BandsPicture {
  const { idPrefix, title, gapMm = 8 } = options
  requireIdPrefix(idPrefix)
  requirePositive('gapMm', gapMm)
  if (bands.length === 0) throw new RangeError('bands must hold at least one, not none')
  const drawn = bands.map(({ draft, woven, side, widthMm, pickHeightMm, lengthMm, detail }, at) => {
    const tabletWidthMm = requirePositive('widthMm', widthMm) / draft.tablets.length
    const look = { side, tabletWidthMm, pickHeightMm, picks: picksIn(lengthMm, pickHeightMm) }
    return drawBand(draft, woven, detail === undefined ? look : { ...look, detail }, `${idPrefix}-${at}`)
  })
  const tallest = Math.max(...drawn.map(({ heightMm }) => heightMm))
  let x = 0
  let content = ''
  const marks = drawn.map((band, at) => {
    const label = bands[at]!.label
    const letter = letterOf(at)
    const place = { letter, label, xMm: x, widthMm: band.widthMm }
    content +=
      `<g transform="translate(${short(x, 3)} ${short(tallest - band.heightMm, 3)})"><title>${escapeXml(label)}</title>${band.content}</g>` +
      `<text x="${short(x + band.widthMm / 2)}" y="${short(tallest + 4)}" font-size="3.4" text-anchor="middle" fill="currentColor">${letter}</text>`
    x += band.widthMm + gapMm
    return place
  })
  const across = x - gapMm
  const scaleMm = roundLengthMm(Math.max(10, Math.min(100, across - 6)))
  const bar = scaleBar(scaleMm)
  content += `<g transform="translate(0 ${short(tallest + MARK_MM, 3)})">${bar.content}</g>`
  const svg = svgInMm(Math.max(across, bar.widthMm), tallest + MARK_MM + bar.heightMm, title, content)
  return { svg, marks, scaleMm }
}

/** a to z, then aa, ab and so on. */
function letterOf(at: number): string {
  const last = String.fromCharCode(97 + (at % 26))
  return at < 26 ? last : letterOf(Math.floor(at / 26) - 1) + last
}
