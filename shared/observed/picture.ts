import { readHex } from '../colour/hex.ts'
import type { Colour, ColourKey } from '../draft/draft.ts'
import { type ObservedFace, sizeOfObserved } from '../draft/infer/observed.ts'

export interface ObservedPictureOptions {
  /** `#rrggbb` behind the band, seen where a cell is not legible. */
  readonly ground: string
  /** `#rrggbb` of marks. */
  readonly ink: string
  /** Cells that are marked, counted from 1. */
  readonly marked: readonly { readonly pick: number; readonly tablet: number }[]
  readonly title: string
  /** CSS pixels a cell; left out for a picture without a size of its own. */
  readonly cellPx?: number
}

const CELL = 10

/**
 * What was seen, as a picture that lies across: pick 1 at the left, tablet 1 on top. Every tablet is a strip in the
 * colours that show on it; where nothing is legible the strip is open, with a thin line through it; a marked cell has a
 * ring.
 * @returns one `<svg>` element, 10 units a cell
 * @throws RangeError when a colour is missing or malformed, or the face is none
 * @example observedPicture(observed, colours, { ground: '#fdfaf3', ink: '#2a2019', marked: [], title: 'Seen' })
 */
export function observedPicture(
  observed: ObservedFace,
  colours: Readonly<Record<ColourKey, Colour>>,
  { ground, ink, marked, title, cellPx }: ObservedPictureOptions,
): string {
  const { tablets, picks } = sizeOfObserved(observed)
  for (const hex of [ground, ink]) readHex(hex)
  const paths = new Map<ColourKey, string>()
  let open = ''
  for (let tablet = 0; tablet < tablets; tablet++) {
    for (let pick = 0, end = 0; pick < picks; pick = end) {
      const key = observed.cells[pick]![tablet]!
      while (end < picks && observed.cells[end]![tablet] === key) end++
      const [x, y, long] = [pick * CELL, tablet * CELL, (end - pick) * CELL]
      if (key === null) open += `M${x + 1} ${y + CELL / 2}h${long - 2}`
      else paths.set(key, (paths.get(key) ?? '') + `M${x} ${y + 0.5}h${long}v${CELL - 1}h${-long}z`)
    }
  }
  const strips = [...paths].map(([key, d]) => {
    const hex = Object.hasOwn(colours, key) ? colours[key]!.hex : undefined
    if (hex === undefined) throw new RangeError(`colours must hold every colour seen, not ${key}`)
    readHex(hex)
    return `<path fill="${hex}" d="${d}"/>`
  })
  const rings = marked.map(({ pick, tablet }) => {
    const [x, y] = [(pick - 0.5) * CELL, (tablet - 0.5) * CELL]
    return `M${x - 6} ${y}a6 6 0 1 1 12 0a6 6 0 1 1-12 0`
  })
  const [width, height] = [picks * CELL, tablets * CELL]
  const size = (units: number) => Math.round(((units + 6) * (cellPx ?? 0)) / CELL)
  const sized = cellPx === undefined ? '' : ` width="${size(width)}" height="${size(height)}"`
  return (
    `<svg xmlns="http://www.w3.org/2000/svg"${sized} viewBox="-3 -3 ${width + 6} ${height + 6}" role="img" aria-label="${escape(title)}">` +
    `<title>${escape(title)}</title><path fill="${ground}" d="M-3-3h${width + 6}v${height + 6}h${-width - 6}z"/>` +
    `${strips.join('')}<path fill="none" stroke="${ink}" stroke-opacity="0.55" d="${open}"/>` +
    `<path fill="none" stroke="${ground}" stroke-width="4" d="${rings.join('')}"/>` +
    `<path fill="none" stroke="${ink}" stroke-width="1.8" d="${rings.join('')}"/></svg>`
  )
}

const escape = (text: string) =>
  text.replace(/[&<>"]/g, (one) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[one]!)
