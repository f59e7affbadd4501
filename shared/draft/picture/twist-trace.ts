import { readHex } from '../../colour/hex.ts'
import { requirePositive } from '../../measure/argument.ts'
import type { Draft } from '../draft.ts'
import type { Turning } from '../woven.ts'
import { short, svgInMm } from './svg.ts'
import { lanesOf, type TwistLane } from './twist-lane.ts'

export interface TwistTraceOptions {
  /** Height of a pick in the drawing, 1.2 mm unless told. */
  readonly pickMm?: number
  /** Most that a quarter turn may go to the side, 1.2 mm unless told; less when the lanes would not fit. */
  readonly quarterMm?: number
  /** Width that the lanes should keep within, 170 mm unless told. A drawing of many lanes may still be wider. */
  readonly widthMm?: number
  /** `#rrggbb`, one for each lane in turn. Madder, woad, weld and walnut unless told. */
  readonly colours?: readonly string[]
}

/** What stands under a twist trace: how to read it. */
export const TWIST_LEGEND =
  'Picks go up from the foot. The line of a tablet goes right for every quarter turn forward and left for every one ' +
  'back, and straight up where it idles. The fine upright line is no twist at all; the number at the head is the net ' +
  'in quarter turns. Neighbours that turn alike are one bundle. Border tablets are drawn broken.'

const DYES = ['#9c3b2e', '#2f4a6b', '#a67c14', '#5b4030'] as const
const GAP_MM = 6
const HEAD_MM = 6
const FOOT_MM = 12
const SIDE_MM = 10
const STRAND_MM = 0.55
const MOST_STRANDS = 5

/**
 * How twist builds up, tablet by tablet: `TWIST_LEGEND` says how to read it.
 * @param draft whose tablets turn; only their part and the title are used
 * @returns one `<svg>` element, in mm; its writing takes the colour of the text around it
 * @throws RangeError when a size is not above zero, a colour is not `#rrggbb`, colours is empty, or the turning is for
 *   another number of tablets
 * @example twistTrace(draft, turningOf(draft), { widthMm: 120 })
 * Source: our own.
 */
export function twistTrace(draft: Draft, turning: Turning, options: TwistTraceOptions = {}): string {
  const { pickMm = 1.2, quarterMm = 1.2, widthMm = 170, colours = DYES } = options
  for (const [name, value] of Object.entries({ pickMm, quarterMm, widthMm })) requirePositive(name, value)
  if (colours.length === 0) throw new RangeError('colours must hold at least one, not none')
  colours.forEach(readHex)
  const lanes = lanesOf(draft, turning)
  const quarters = lanes.reduce((sum, lane) => sum + lane.most - lane.least, 0)
  const strandsMm = lanes.reduce((sum, lane) => sum + widthOfStrands(lane), 0)
  const free = widthMm - SIDE_MM - lanes.length * GAP_MM - strandsMm
  const quarter = quarters === 0 ? quarterMm : Math.min(quarterMm, Math.max(free, widthMm / 4) / quarters)
  const foot = HEAD_MM + turning.picks * pickMm
  let x = SIDE_MM
  let content = pickMarks(turning.picks, pickMm, foot)
  lanes.forEach((lane, at) => {
    const zero = x - lane.least * quarter
    content += drawLane(lane, zero, foot, quarter, pickMm, turning.picks, colours[at % colours.length]!)
    x += (lane.most - lane.least) * quarter + widthOfStrands(lane) + GAP_MM
  })
  content += quarterScale(quarter, foot + 8)
  const width = Math.max(x, SIDE_MM + 4 * quarter + 40)
  return svgInMm(width, foot + FOOT_MM, `Twist of ${draft.title}, ${turning.picks} picks`, content)
}

const strandsOf = (lane: TwistLane) => Math.min(MOST_STRANDS, lane.to - lane.from + 1)
const widthOfStrands = (lane: TwistLane) => (strandsOf(lane) - 1) * STRAND_MM

function drawLane(
  lane: TwistLane,
  zero: number,
  foot: number,
  quarter: number,
  pickMm: number,
  picks: number,
  colour: string,
): string {
  const steps = lane.runs.map(({ turn, picks }) => `l${short(turn * picks * quarter, 3)} ${short(-picks * pickMm, 3)}`)
  const strands = Array.from(
    { length: strandsOf(lane) },
    (_, i) => `M${short(zero + i * STRAND_MM)} ${short(foot)}${steps.join('')}`,
  )
  const broken = lane.part === 'border' ? ' stroke-dasharray="1.6 .7"' : ''
  const net = lane.net > 0 ? `+${lane.net}` : lane.net < 0 ? `−${-lane.net}` : '0'
  const text = (at: number, y: number, size: number, words: string) =>
    `<text x="${short(at)}" y="${short(y)}" font-size="${size}" text-anchor="middle" fill="currentColor">${words}</text>`
  return (
    `<path stroke="currentColor" stroke-opacity=".35" stroke-width=".15" d="M${short(zero)} ${short(foot)}v${short(-picks * pickMm)}"/>` +
    `<path fill="none" stroke="${colour}" stroke-width=".4" stroke-linejoin="round"${broken} d="${strands.join('')}"/>` +
    text(zero + lane.net * quarter + widthOfStrands(lane) / 2, foot - picks * pickMm - 1.4, 3, net) +
    text(
      zero + widthOfStrands(lane) / 2,
      foot + 3.4,
      3,
      lane.from === lane.to ? `${lane.from}` : `${lane.from}–${lane.to}`,
    )
  )
}

/** Numbers of picks at the left, as many as stand clear of each other. */
function pickMarks(picks: number, pickMm: number, foot: number): string {
  const apart =
    [1, 2, 4, 5, 10, 20, 25, 50, 100, 200, 500, 1000, 2000, 5000].find((step) => step * pickMm >= 4) ?? 10_000
  let [ticks, words] = ['', '']
  for (let pick = apart; pick <= picks; pick += apart) {
    const y = foot - pick * pickMm
    ticks += `M${SIDE_MM - 3} ${short(y)}h1.5`
    words += `<text x="${SIDE_MM - 3.6}" y="${short(y + 0.9)}" font-size="2.6" text-anchor="end" fill="currentColor">${pick}</text>`
  }
  return ticks === '' ? '' : `<path stroke="currentColor" stroke-width=".2" d="${ticks}"/>${words}`
}

/** Four quarter turns forward, as wide as they go to the side. */
function quarterScale(quarter: number, y: number): string {
  const marks = [0, 1, 2, 3, 4].map((turn) => `M${short(SIDE_MM + turn * quarter, 3)} ${y - 1}v2`).join('')
  return (
    `<path stroke="currentColor" stroke-width=".25" d="M${SIDE_MM} ${y}h${short(4 * quarter, 3)}${marks}"/>` +
    `<text x="${short(SIDE_MM + 4 * quarter + 2)}" y="${y + 1}" font-size="3" fill="currentColor">4 quarter turns forward</text>`
  )
}
