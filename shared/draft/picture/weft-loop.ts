import { darken, lighten } from '../../colour/oklab.ts'
import type { Side } from './cord.ts'
import { PICK_UNITS } from './stitch-shape.ts'
import { short } from './svg.ts'

/** The strokes of a loop from below to above, each a share of the thread's thickness. Our own, by eye. */
export const loopStrokes = (weft: string) =>
  [
    { hex: darken(weft, 0.34), share: 1 },
    { hex: darken(weft, 0.06), share: 0.72 },
    { hex: lighten(weft, 0.14), share: 0.26 },
  ] as const

/**
 * How thick the weft of the loops is, and how far out the two middle points of a loop's cubic lie, so that the thread
 * just reaches `reach`.
 */
export function loopSize(reach: number): { thick: number; out: number } {
  const thick = reach * 0.95
  return { thick, out: (reach - thick / 2) / 0.75 }
}

/** Whether the weft turns back at the right edge of what is looked at, from pick `pick` (from 1) to the next. */
export const turnsAtRight = (pick: number, side: Side): boolean => (pick % 2 === 1) === (side === 'face')

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
  const { thick, out } = loopSize(reach)
  let d = ''
  for (let pick = 1; pick < picks; pick++) {
    const atRight = turnsAtRight(pick, side)
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
    loopStrokes(weft)
      .map(({ hex, share }) => line(hex, share))
      .join('')
  )
}
