import { drawBand } from '../draft/picture/band.ts'
import { isFine } from '../draft/entry/bound.ts'
import { escapeXml, short } from '../draft/picture/svg.ts'
import { weave } from '../draft/weave.ts'
import { stretchOf, type Weaving } from './weaving.ts'

/** Our usual proportions of middling wool, as the other pictures have them while nothing is measured. */
const TABLET_MM = 1
const PICK_MM = 0.9
/** Picks drawn below the window, so that threads come in as they lie. */
const LEAD = 3

/**
 * How many picks fill a box.
 * @example picksInBox(24, 320, 170) // 15
 */
export function picksInBox(tablets: number, widthPx: number, heightPx: number): number {
  const fit = Math.round((heightPx / Math.max(1, widthPx)) * ((tablets * TABLET_MM) / PICK_MM)) + 1
  return Math.min(48, Math.max(9, fit))
}

/**
 * The band as it should look up to here, upright as it lies on the loom: the fell at the top, and above it the pick to
 * come, covered by a veil with a line around it.
 * @param place picks woven
 * @param shown picks in the picture, the one to come among them, 2 or more
 * @param idPrefix begins every id in it
 * @returns one `<svg>`; the classes `loom-fell` and `loom-next` are for the style sheet
 */
export function bandWindow(weaving: Weaving, place: number, shown: number, idPrefix: string): string {
  const first = Math.max(0, place + 1 - shown)
  const from = Math.max(0, first - LEAD)
  const { draft, turning } = stretchOf(weaving, from, place + 1)
  const detail = isFine(turning.picks * turning.tablets) ? ('high' as const) : ('low' as const)
  const look = { side: 'face' as const, tabletWidthMm: TABLET_MM, pickHeightMm: PICK_MM, picks: turning.picks, detail }
  const { widthMm, content } = drawBand(draft, weave(draft, turning), look, idPrefix)
  const height = (place + 1 - first) * PICK_MM
  const [width, pick] = [short(widthMm, 3), short(PICK_MM)]
  const woven = place === 0 ? 'Nothing is woven yet' : `The last ${place - first} of ${place} picks woven`
  const label = escapeXml(`${woven}, and the pick to come above the fell.`)
  return (
    `<svg viewBox="0 0 ${width} ${short(height, 3)}" preserveAspectRatio="xMidYMin" role="img" aria-label="${label}" focusable="false">${content}` +
    `<rect class="loom-next" x="0" y="0" width="${width}" height="${pick}"/>` +
    `<path class="loom-fell" d="M0 ${pick}H${width}"/></svg>`
  )
}
