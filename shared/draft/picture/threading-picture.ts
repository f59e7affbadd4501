import { requireWhole } from '../../measure/argument.ts'
import type { Draft } from '../draft.ts'
import { readHex } from '../../colour/hex.ts'
import { requireIdPrefix, short, svgInMm } from './svg.ts'
import { drawTablet, TABLET_MM } from './tablet-drawing.ts'

export interface ThreadingPictureOptions {
  /** Tablets in a row, 12 unless told. */
  readonly perRow?: number
  /** Begins every id; give each picture of a page its own. */
  readonly idPrefix: string
}

/** What stands under a threading picture: how to read it. */
export const THREADING_LEGEND =
  'Each tablet twice, as it stands before pick 1. Above: seen from above, with the far edge up, the two top threads ' +
  'crossing the tablet as they slant: like \\ in S, like / in Z. Below: seen from the weaver’s right, with the near ' +
  'edge at the left; turning forward is clockwise here. The thread comes out of its hole towards you on the near side ' +
  'in S, on the far side in Z. A dashed hole is empty. Border tablets stand apart, with a line under their numbers.'

const PART_GAP_MM = 4
const NUMBER_MM = 5.5

/**
 * The threading of a draft as its tablets themselves, at a size that can be threaded from; `THREADING_LEGEND` says how
 * to read it. Tablets built alike are drawn once.
 * @returns one `<svg>` element, in mm; it takes the colour of the text around it
 * @throws RangeError when perRow is not a whole number above 0, or a colour is missing or not `#rrggbb`
 * @example threadingPicture(draft, { perRow: 8, idPrefix: 'cards' })
 */
export function threadingPicture(draft: Draft, { perRow = 12, idPrefix }: ThreadingPictureOptions): string {
  requireWhole('perRow', perRow, 1)
  requireIdPrefix(idPrefix)
  for (const { hex } of Object.values(draft.colours)) readHex(hex)
  const ids = new Map<string, string>()
  let [defs, content] = ['', '']
  let [x, y, widest] = [0, 0, 0]
  draft.tablets.forEach((tablet, at) => {
    const drawing = drawTablet(tablet, draft.colours)
    let id = ids.get(drawing)
    if (id === undefined) {
      ids.set(drawing, (id = `${idPrefix}-${ids.size.toString(36)}`))
      defs += `<g id="${id}">${drawing}</g>`
    }
    if (at > 0 && at % perRow === 0) [x, y] = [0, y + TABLET_MM.height + NUMBER_MM]
    else if (at > 0 && draft.tablets[at - 1]!.part !== tablet.part) x += PART_GAP_MM
    const middle = short(x + TABLET_MM.width / 2)
    const foot = y + TABLET_MM.height
    content +=
      `<use href="#${id}" x="${short(x)}" y="${short(y)}"/>` +
      `<text x="${middle}" y="${short(foot + 2.4)}" font-size="3" text-anchor="middle" fill="currentColor">${at + 1} ${tablet.threading}</text>`
    if (tablet.part === 'border') {
      content += `<path stroke="currentColor" stroke-width=".5" d="M${short(x + 2)} ${short(foot + 3.5)}h${TABLET_MM.width - 4}"/>`
    }
    x += TABLET_MM.width
    widest = Math.max(widest, x)
  })
  const title = `Threading of ${draft.title}, ${draft.tablets.length} tablets`
  return svgInMm(widest, y + TABLET_MM.height + NUMBER_MM, title, `<defs>${defs}</defs>${content}`)
}
