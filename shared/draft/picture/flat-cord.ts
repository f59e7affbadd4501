import type { Cords, Stitch } from './cord.ts'
import { FALLING, FALLING_TWICE, PICK_UNITS, STRAIGHT } from './stitch-shape.ts'
import { short } from './svg.ts'
import { hollowOf, type Palette } from './thread-paint.ts'

/**
 * Cords in flat colour: one slanting piece for each run of stitches of one colour and one lean, one path a colour.
 * Every piece covers exactly as much as its stitches. Inside, a stitch is 2 units wide and 2 high.
 * @param width of a cord in units
 * @returns SVG paths
 * Source: our own.
 */
export function drawFlatCords({ stitches, cords }: Cords, palette: Palette, width: number): string {
  const paths = new Map<string, string[]>()
  const hexes = stitches.map((stitch) => hexOf(stitch, palette))
  const leans = stitches.map(leanOf)
  cords.forEach((cord, at) => {
    for (let from = 0, to = 0, below = 0; from < cord.length; from = to) {
      const hex = hexes[cord[from]!]!
      const lean = leans[cord[from]!]!
      while (to < cord.length && hexes[cord[to]!] === hex && leans[cord[to]!] === lean) to++
      const foot = below === lean ? lean : 0
      const head = to < cord.length && leans[cord[to]!] === lean ? lean : 0
      below = lean
      let path = paths.get(hex)
      if (path === undefined) paths.set(hex, (path = []))
      const tall = 2 * (to - from) + head - foot
      path.push(`M${2 * at} ${2 * from - foot}l2 ${2 * foot}v${tall}l-2 ${-2 * head}z`.replaceAll(' -', '-'))
    }
  })
  const flat = [...paths].map(([hex, path]) => `<path fill="${hex}" d="${path.join('')}"/>`).join('')
  return `<g transform="scale(${short(width / 2, 4)} ${PICK_UNITS / 2})">${flat}</g>`
}

/** The one colour of a stitch seen small: of the thread that shows, or of the hollow where there is none. */
export function hexOf({ threads, shown }: Stitch, palette: Palette): string {
  const key = threads[Math.max(0, shown)]!
  return key === null ? hollowOf(palette) : palette.hexOf.get(key)!
}

function leanOf({ kind }: Stitch): number {
  if (kind === STRAIGHT) return 0
  return kind === FALLING || kind === FALLING_TWICE ? -1 : 1
}
