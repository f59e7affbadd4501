import { requireWhole } from '../../measure/argument.ts'
import { short, svgInMm } from './svg.ts'

const SIDE_MM = 9
const FOOT_MM = 6
const WIDTH_MM = 165
const HEIGHT_MM = 22
const WIDEST_PICK_MM = 6
/** A finer pick than this cannot be seen; then the strip shows the first picks alone. */
const MOST_PICKS = 1000

/** How many picks of a repeat a strip shows: the first 1,000. */
export const picksInStrip = (picks: number): number => Math.min(picks, MOST_PICKS)

/**
 * A strip along the repeat: one upright bar a pick, as high as its count. Pick 1 is at the left. It takes its colours from
 * the page: `.strip-bar` fills, the writing is in the colour of the text around it.
 * @param counts one whole number from 0 a pick
 * @param title for those who do not see it
 * @returns one `<svg>` element, in mm
 * @throws RangeError when counts is empty or holds anything but whole numbers from 0
 * @example barStrip([1, 3, 3], 'Handfuls of each pick')
 * Source: our own.
 */
export function barStrip(counts: ArrayLike<number>, title: string): string {
  const { picks, pickMm } = scaleOf(counts)
  const shown = Array.from({ length: picks }, (_, pick) => requireWhole(`counts[${pick}]`, counts[pick]!, 0))
  const most = Math.max(1, ...shown)
  const bar = Math.max(pickMm * 0.82, Math.min(pickMm, 0.15))
  let bars = ''
  shown.forEach((count, pick) => {
    if (count === 0) return
    const height = (count / most) * HEIGHT_MM
    bars += `M${short(SIDE_MM + pick * pickMm)} ${short(1 + HEIGHT_MM)}v${short(-height)}h${short(bar)}v${short(height)}z`
  })
  const marks = level(1, most) + (most > 1 ? level(1 + HEIGHT_MM * (1 - 1 / most), 1) : '')
  const content = `${marks}<path class="strip-bar" d="${bars}"/>${foot(picks, pickMm, 1 + HEIGHT_MM)}`
  return svgInMm(SIDE_MM + picks * pickMm + 4, 1 + HEIGHT_MM + FOOT_MM, title, content)
}

/**
 * The picks as a line that climbs: each pick a short stroke as high as the number of its kind, kinds numbered as they
 * first come. What comes again draws the same shape again. `.strip-line` takes its colour from the page.
 * @param kinds the kind of each pick, whole numbers from 0
 * @returns one `<svg>` element, in mm
 * @throws RangeError when kinds is empty or holds anything but whole numbers from 0
 * @example kindStrip([0, 1, 2, 0, 1, 2], 'Which picks are equal')
 * Source: our own.
 */
export function kindStrip(kinds: ArrayLike<number>, title: string): string {
  const { picks, pickMm } = scaleOf(kinds)
  const shown = Array.from({ length: picks }, (_, pick) => requireWhole(`kinds[${pick}]`, kinds[pick]!, 0))
  const most = Math.max(...shown)
  const height = Math.min(44, Math.max(10, most * 1.6))
  const yOf = (kind: number) => 2 + height * (most === 0 ? 1 : 1 - kind / most)
  let [thin, thick] = ['', '']
  shown.forEach((kind, pick) => {
    const x = SIDE_MM + pick * pickMm
    const last = shown[pick - 1]
    if (last !== undefined && last !== kind) thin += `M${short(x)} ${short(yOf(last))}V${short(yOf(kind))}`
    thick += `M${short(x)} ${short(yOf(kind))}h${short(pickMm)}`
  })
  const marks = level(yOf(most), most + 1) + (most > 3 ? level(yOf(0), 1) : '')
  const line = `<path class="strip-line" stroke-width=".18" stroke-opacity=".55" d="${thin}"/><path class="strip-line" stroke-width=".7" d="${thick}"/>`
  return svgInMm(
    SIDE_MM + picks * pickMm + 4,
    3 + height + FOOT_MM,
    title,
    marks + line + foot(picks, pickMm, 3 + height),
  )
}

function scaleOf(of: ArrayLike<number>): { picks: number; pickMm: number } {
  if (of.length === 0) throw new RangeError('a strip must have at least one pick, not none')
  const picks = picksInStrip(of.length)
  return { picks, pickMm: Math.min(WIDEST_PICK_MM, WIDTH_MM / picks) }
}

function level(y: number, value: number): string {
  return (
    `<path stroke="currentColor" stroke-opacity=".4" stroke-width=".15" d="M${SIDE_MM - 1.6} ${short(y)}h1.2"/>` +
    `<text x="${SIDE_MM - 2.2}" y="${short(y + 0.95)}" font-size="2.8" text-anchor="end" fill="currentColor">${value}</text>`
  )
}

/** The ground line, and numbers of picks as many as stand clear of each other. */
function foot(picks: number, pickMm: number, y: number): string {
  const apart = [1, 2, 4, 5, 10, 20, 25, 50, 100, 200].find((step) => step * pickMm >= 8) ?? 500
  let words = ''
  for (let pick = apart === 1 ? 1 : apart; pick <= picks; pick += apart) {
    const x = short(SIDE_MM + (pick - 0.5) * pickMm)
    words += `<path stroke="currentColor" stroke-opacity=".4" stroke-width=".15" d="M${x} ${short(y)}v1"/>`
    words += `<text x="${x}" y="${short(y + 4.2)}" font-size="2.8" text-anchor="middle" fill="currentColor">${pick}</text>`
  }
  return (
    `<path stroke="currentColor" stroke-opacity=".4" stroke-width=".15" d="M${SIDE_MM} ${short(y)}h${short(picks * pickMm)}"/>` +
    words
  )
}
