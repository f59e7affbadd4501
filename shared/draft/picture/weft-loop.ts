import { darken, lighten } from '../../colour/oklab.ts'
import type { Side } from './cord.ts'
import { PICK_UNITS } from './stitch-shape.ts'
import { short } from './svg.ts'

/**
 * The loops in which one weft turns back at the edges: from the first pick to the second at the weaver's right, from
 * the second to the third at the left, and so on; turned over on the reverse. Drawn first, the cords lie over their ends.
 * @param width of the band in units, the left edge at 0
 * @param reach how far a loop stands out, in units
 * @param weft hex colour
 * @param idPrefix begins the one id inside
 * @returns SVG paths
 */
export function drawWeftLoops(
  picks: number,
  width: number,
  reach: number,
  weft: string,
  side: Side,
  idPrefix: string,
): string {
  const thick = reach * 0.95
  const out = (reach - thick / 2) / 0.75
  let d = ''
  for (let pick = 1; pick < picks; pick++) {
    const atRight = (pick % 2 === 1) === (side === 'face')
    const edge = short(atRight ? width : 0, 1)
    const bow = short(atRight ? out : -out, 1)
    d += `M${edge} ${pick * PICK_UNITS}c${bow} 0 ${bow} ${PICK_UNITS} 0 ${PICK_UNITS}`
  }
  if (d === '') return ''
  const id = `${idPrefix}-w`
  const line = (hex: string, share: number) =>
    `<use href="#${id}" stroke="${hex}" stroke-width="${short(thick * share, 1)}"/>`
  return (
    `<defs><path id="${id}" fill="none" d="${d}"/></defs>` +
    line(darken(weft, 0.34), 1) +
    line(darken(weft, 0.06), 0.72) +
    line(lighten(weft, 0.14), 0.26)
  )
}
