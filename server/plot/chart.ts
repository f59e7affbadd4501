import { toHtml, type Html } from '../pages.ts'
import { toScale } from './scale.ts'

export interface ChartPoint {
  readonly x: number
  readonly y: number
  /** What the point is, for the pointer and for a reader. */
  readonly label: string
  /** Where it leads to, public base path included; nowhere if left out. */
  readonly href?: string
}

/** Points, the line through them and its band, in the units of the axes. */
export interface Chart {
  /** Names the picture for who cannot see it. */
  readonly name: string
  readonly x: { readonly label: string; readonly startsAtZero?: boolean }
  readonly y: { readonly label: string; readonly startsAtZero?: boolean }
  readonly points: readonly ChartPoint[]
  readonly line?: readonly { readonly x: number; readonly y: number }[]
  readonly band?: readonly { readonly x: number; readonly low: number; readonly high: number }[]
}

const WIDTH = 640
const HEIGHT = 380
const EDGE = { left: 62, right: 16, top: 14, bottom: 52 }

/**
 * A chart as SVG for a page: it takes its colours from the style sheet, so that it follows light, dark and paper. The figures
 * belong in a table behind it (`{{> chart}}`), for a picture is no figure.
 */
export function drawChart({ name, x, y, points, line = [], band = [] }: Chart): Html {
  const xs = [...points, ...line, ...band].map((point) => point.x)
  // The band may run far out where there are few points: the line and the points say how far the axis goes.
  const ys = [...points, ...line].map((point) => point.y)
  const reach = Math.max(...ys) * 1.5
  const inView = band.flatMap(({ low, high }) => [low, high]).filter((value) => value >= 0 && value <= reach)
  const across = toScale(xs, EDGE.left, WIDTH - EDGE.right, x.startsAtZero ?? false)
  const up = toScale([...ys, ...inView], HEIGHT - EDGE.bottom, EDGE.top, y.startsAtZero ?? false)
  const place = (px: number, py: number) => `${round(across.at(px))} ${round(clamp(up.at(py)))}`
  const parts = [
    ...up.ticks.map(
      ({ at, label }) =>
        `<path class="chart-grid" d="M${EDGE.left} ${round(at)}H${WIDTH - EDGE.right}"/><text class="chart-tick" x="${EDGE.left - 8}" y="${round(at + 4)}" text-anchor="end">${label}</text>`,
    ),
    ...across.ticks.map(
      ({ at, label }) =>
        `<text class="chart-tick" x="${round(at)}" y="${HEIGHT - EDGE.bottom + 20}" text-anchor="middle">${label}</text>`,
    ),
    `<path class="chart-axis" d="M${EDGE.left} ${EDGE.top}V${HEIGHT - EDGE.bottom}H${WIDTH - EDGE.right}"/>`,
    `<text class="chart-label" x="${(EDGE.left + WIDTH - EDGE.right) / 2}" y="${HEIGHT - 8}" text-anchor="middle">${escaped(x.label)}</text>`,
    `<text class="chart-label" transform="translate(14 ${(EDGE.top + HEIGHT - EDGE.bottom) / 2}) rotate(-90)" text-anchor="middle">${escaped(y.label)}</text>`,
    band.length === 0
      ? ''
      : `<path class="chart-band" d="M${band.map((one) => place(one.x, one.high)).join('L')}L${band
          .toReversed()
          .map((one) => place(one.x, one.low))
          .join('L')}Z"/>`,
    line.length === 0 ? '' : `<path class="chart-line" d="M${line.map((one) => place(one.x, one.y)).join('L')}"/>`,
    ...points.map((point) => toDot(point, across.at(point.x), up.at(point.y))),
  ]
  const role = points.some(({ href }) => href !== undefined) ? 'group' : 'img'
  return toHtml(
    `<svg class="chart" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" role="${role}" aria-label="${escaped(name)}">${parts.join('')}</svg>`,
  )
}

function toDot({ label, href }: ChartPoint, cx: number, cy: number): string {
  const dot = `<circle class="chart-point" cx="${round(cx)}" cy="${round(clamp(cy))}" r="5"><title>${escaped(label)}</title></circle>`
  return href === undefined ? dot : `<a href="${escaped(href)}" aria-label="${escaped(label)}">${dot}</a>`
}

const clamp = (at: number) => Math.min(HEIGHT - EDGE.bottom, Math.max(EDGE.top, at))
const round = (at: number) => Number(at.toFixed(1))
const escaped = (text: string) => text.replace(/[&<>"']/g, (letter) => `&#${letter.charCodeAt(0)};`)
