import { drawBand, weftLoopMm } from '../../shared/draft/picture/band.ts'
import { isFine, MOST_STITCHES } from '../../shared/draft/entry/bound.ts'
import { picksIn } from '../../shared/draft/picture/woven-face.ts'
import { escapeXml, short } from '../../shared/draft/picture/svg.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import type { Woven } from '../../shared/draft/woven.ts'
import { toDecimals } from '../../shared/measure/rounding.ts'
import { toHtml, type Html } from '../pages.ts'
import { evidenceKey, knownOf, type EvidenceOf } from './evidence.ts'

/** A band drawn to the page's one scale: true size on paper, larger on a screen (styles/compare.css sets how much). */
export interface BandView {
  readonly label: string
  /** An empty picture where too little is known to draw one. */
  readonly picture: Html | ''
  readonly caption: string
}

export interface BandRequest {
  readonly label: string
  readonly draft: Draft
  readonly woven: Woven
  readonly side: EvidenceOf
  readonly lengthMm: number
  readonly detail: 'high' | 'low'
  readonly idPrefix: string
  /** Lent where this side has no picks per cm of its own, and then said so. */
  readonly lentPicksPerCm?: { readonly value: number; readonly from: string } | undefined
}

/**
 * One band at its own width and density. Lengths are written in `em`: the style sheet makes an em one millimetre on
 * paper, so that the picture is at true size there, and some millimetres on a screen.
 */
export function toBand({
  label,
  draft,
  woven,
  side,
  lengthMm,
  detail,
  idPrefix,
  lentPicksPerCm,
}: BandRequest): BandView {
  const width = knownOf(side.get(evidenceKey('width')))?.value
  const own = knownOf(side.get(evidenceKey('picksPerCm')))?.value
  const picksPerCm = own ?? lentPicksPerCm?.value
  if (width === undefined) return { label, picture: '', caption: 'Not drawn: the width has no value.' }
  if (picksPerCm === undefined)
    return { label, picture: '', caption: 'Not drawn: neither picks per cm nor the length of a repeat has a value.' }
  const pickHeightMm = 10 / picksPerCm
  const tabletWidthMm = cordWidth(width, draft.tablets.length, pickHeightMm)
  const wanted = picksIn(lengthMm, pickHeightMm)
  // A slip in a claim (800 picks per cm) must not take the page away on which it would be seen.
  const picks = Math.min(wanted, Math.max(1, Math.floor(MOST_STITCHES / draft.tablets.length)))
  const drawnAs = isFine(picks * draft.tablets.length) ? detail : 'low'
  const look = { side: 'face', tabletWidthMm, pickHeightMm, picks, detail: drawnAs } as const
  const { widthMm, heightMm, content } = drawBand(draft, woven, look, idPrefix)
  const density = `${toDecimals(picksPerCm, 1)} picks per cm${own === undefined ? `, lent from ${lentPicksPerCm!.from}` : ''}`
  const cut = picks < wanted ? `; only the first ${picks} picks are drawn, more would be too heavy` : ''
  const caption = `${toDecimals(width, 1)} mm wide, ${density}${cut}`
  return { label, picture: toHtml(svgInEm(widthMm, heightMm, `${label}: woven face, ${caption}`, content)), caption }
}

/** Cords and both weft loops together make up the measured width. */
function cordWidth(widthMm: number, tablets: number, pickHeightMm: number): number {
  // The loop is a share of the smaller of cord and pick, so the loop of the loopless cord is only a first guess; it settles at once.
  let cord = widthMm / tablets
  for (let round = 0; round < 4; round += 1) cord = (widthMm - 2 * weftLoopMm(cord, pickHeightMm)) / tablets
  return cord
}

/** Also drawn to the page's scale: `lengthMm` in ticks of a millimetre, every tenth longer. */
export function toScaleBar(lengthMm: number): Html {
  const ticks = Array.from(
    { length: lengthMm + 1 },
    (_, mm) => `M${mm + 0.5} 4v${mm % 10 === 0 ? -3 : mm % 5 === 0 ? -2 : -1.2}`,
  ).join('')
  const numbers = Array.from(
    { length: Math.floor(lengthMm / 10) + 1 },
    (_, cm) => `<text x="${cm * 10 + 0.5}" y="8" text-anchor="middle">${cm}</text>`,
  ).join('')
  const content = `<path class="scale-line" d="M.5 4h${lengthMm}"/><path class="scale-ticks" d="${ticks}"/>${numbers}<text x="${lengthMm + 3}" y="8">cm</text>`
  return toHtml(svgInEm(lengthMm + 8, 9, `Scale bar, ${lengthMm} mm`, content, 'scale-bar'))
}

function svgInEm(widthMm: number, heightMm: number, title: string, content: string, className = 'band'): string {
  const [width, height] = [short(widthMm, 3), short(heightMm, 3)]
  return (
    `<svg class="${className}" width="${width}em" height="${height}em" viewBox="0 0 ${width} ${height}" role="img">` +
    `<title>${escapeXml(title)}</title>${content}</svg>`
  )
}
