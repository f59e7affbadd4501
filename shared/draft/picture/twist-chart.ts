import { requirePositive } from '../../measure/argument.ts'
import { short } from './svg.ts'

export interface TwistChart {
  /** By pick, the one before the first pick with it; the same number of both. */
  readonly borderTurnsPerM: Float64Array
  readonly patternTurnsPerM: Float64Array
  readonly pickMm: number
  readonly limitPerM: number
  /** Picks after which the borders turn the other way. */
  readonly reversals: readonly number[]
  /** Whether there are border tablets to be drawn by themselves. */
  readonly isSplit: boolean
}

const [WIDTH, HEIGHT] = [160, 72]
const [LEFT, RIGHT, TOP, FOOT] = [13, 26, 7, 13]
/** As many points as a line of this width can show. */
const MOST_POINTS = 400

/**
 * Turns per metre in the bare warp against the length woven: pattern tablets a whole line, border tablets a broken one,
 * the limit a fine one, and a mark below where the borders are reversed. What it shows stands in a table as well, so
 * it is hidden from screen readers.
 * @returns one `<svg>` element in a field of 160 x 72; it takes the colours of the page by the classes of its parts
 * @throws RangeError when the pick or the limit is not above zero
 * @example twistChart({ borderTurnsPerM: …, limitPerM: 80, … })
 * Source: our own.
 */
export function twistChart(chart: TwistChart): string {
  const { borderTurnsPerM: border, patternTurnsPerM: pattern, limitPerM, reversals, isSplit } = chart
  requirePositive('pickMm', chart.pickMm)
  requirePositive('limitPerM', limitPerM)
  const picks = pattern.length - 1
  const most = [border, pattern].reduce(
    (top, turns) => turns.reduce((high, one) => Math.max(high, one), top),
    limitPerM,
  )
  // Close to the end of the warp turns per metre grow without end: the limit stays in sight.
  const top = niceAbove(Math.min(most, 3 * limitPerM))
  const [wide, high] = [WIDTH - LEFT - RIGHT, HEIGHT - TOP - FOOT]
  const x = (pick: number) => LEFT + (picks === 0 ? 0 : (wide * pick) / picks)
  const y = (turns: number) => TOP + high - (high * Math.min(turns, top)) / top
  const line = (turns: Float64Array, name: string) => {
    const step = Math.max(1, Math.ceil(picks / MOST_POINTS))
    const points: string[] = []
    // A line that leaves the field ends at its edge: it would lie along it, and say that the twist stays there.
    for (let pick = 0; pick <= picks; pick = pick === picks ? pick + 1 : Math.min(pick + step, picks)) {
      points.push(`${short(x(pick))} ${short(y(turns[pick]!))}`)
      if (turns[pick]! > top) break
    }
    return `<path class="twist-${name}" d="M${points.join('L')}"/>`
  }
  const text = (at: number, height: number, words: string, anchor = 'middle') =>
    `<text x="${short(at)}" y="${short(height)}" text-anchor="${anchor}">${words}</text>`
  const ticks = niceTicks(top).map(
    (turns) =>
      `${text(LEFT - 1.5, y(turns) + 1.2, String(turns), 'end')}<path class="twist-rule" d="M${LEFT} ${short(y(turns))}h${wide}"/>`,
  )
  const lengths = niceTicks((picks * chart.pickMm) / 10).map((cm) =>
    text(x((cm * 10) / chart.pickMm), HEIGHT - FOOT + 4.5, String(cm)),
  )
  const marks = reversals
    .filter((pick) => pick <= picks)
    .map((pick) => `<path class="twist-mark" d="M${short(x(pick))} ${HEIGHT - FOOT}v-2.4m-1 1.2l1 -1.2l1 1.2"/>`)
  const ends = labelsAtEnd([
    { name: 'pattern', height: y(pattern[picks]!) },
    ...(isSplit ? [{ name: 'border', height: y(border[picks]!) }] : []),
    { name: 'limit', height: y(limitPerM) },
  ])
  return (
    `<svg class="twist-chart" viewBox="0 0 ${WIDTH} ${HEIGHT}" aria-hidden="true" focusable="false" xmlns="http://www.w3.org/2000/svg">` +
    ticks.join('') +
    `<path class="twist-axis" d="M${LEFT} ${TOP}V${HEIGHT - FOOT}h${wide}"/>` +
    `<path class="twist-limit" d="M${LEFT} ${short(y(limitPerM))}h${wide}"/>` +
    line(pattern, 'pattern') +
    (isSplit ? line(border, 'border') : '') +
    marks.join('') +
    lengths.join('') +
    ends.map(({ name, height }) => text(WIDTH - RIGHT + 2, height + 1.2, name, 'start')).join('') +
    text(LEFT - 1.5, 3.4, 'turns per m', 'start') +
    text(LEFT + wide / 2, HEIGHT - 2.5, 'cm woven') +
    '</svg>'
  )
}

/** Names at the ends of their lines, moved apart where these come close. */
function labelsAtEnd(labels: { name: string; height: number }[]): { name: string; height: number }[] {
  const sorted = labels.sort((left, right) => left.height - right.height)
  let last = -Infinity
  return sorted.map(({ name, height }) => {
    last = Math.max(height, last + 4)
    return { name, height: last }
  })
}

const STEPS = [1, 2, 2.5, 5, 10] as const

/** The least round number that is not below a value. */
function niceAbove(value: number): number {
  const power = 10 ** Math.floor(Math.log10(value))
  return power * STEPS.find((step) => step * power >= value * (1 - 1e-9))!
}

/** Round numbers from zero, some four of them. */
function niceTicks(most: number): number[] {
  if (!(most > 0)) return [0]
  const step = niceAbove(most / 5)
  return Array.from({ length: Math.floor(most / step + 1e-9) + 1 }, (_, at) => Math.round(at * step * 1e6) / 1e6)
}
