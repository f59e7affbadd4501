import { toDecimals, toSignificant } from '../../shared/measure/rounding.ts'
import { fitLearning, LEAST_LEARNING_POINTS, learningLine } from '../../shared/work/learning.ts'
import { repeatAhead } from '../../shared/work/learning-ahead.ts'
import { toChartView, type ChartView } from '../plot/view.ts'
import type { LearningBase } from './facts.ts'

/** The learning curve of a piece in words, with its picture where there is one. */
export interface LearningView {
  readonly words: string
  readonly chart: ChartView | ''
}

/** Points along the curve that its picture is drawn through. */
const CURVE_POINTS = 48

export function learningView({ points, by }: LearningBase): LearningView {
  const found = fitLearning(points)
  const line = learningLine(points)
  if (!found || !line) return { words: sayTooFew(points.length, by), chart: '' }
  const { ratePerDoubling: rate, rateInterval: interval, n } = found
  const percent = (share: number) => toDecimals(share * 100, 0)
  const words =
    `At each doubling of the repeats a repeat takes ${percent(rate)} % of the time it took ` +
    `(95 % interval ${percent(interval[0])} to ${percent(interval[1])} %, n = ${n} ${by === 'repeat' ? 'repeats' : 'sittings'}). ` +
    `${interval[1] < 1 ? 'The work got faster.' : interval[0] > 1 ? 'The work got slower.' : 'Whether it got faster or slower cannot be told from so few.'} ` +
    `By this curve the first repeat took ${toSignificant(found.firstRepeatMinutes, 3)} min.`
  const last = Math.max(...points.map(({ repeat }) => repeat))
  const first = Math.min(...points.map(({ repeat }) => repeat))
  const xs = Array.from({ length: CURVE_POINTS + 1 }, (_, at) => first * (last / first) ** (at / CURVE_POINTS))
  const ahead = xs.map((x) => ({ x, ...repeatAhead(line, x) }))
  const ofPoint = by === 'repeat' ? 'repeat' : 'middle of the repeats of a sitting'
  return {
    words,
    chart: toChartView(
      {
        name: `Minutes a repeat against the number of the repeat: ${n} points, the learning curve and its 95 % band`,
        x: { label: `Repeat (${ofPoint})`, startsAtZero: true },
        y: { label: 'Minutes a repeat', startsAtZero: true },
        points: points.map(({ repeat, minutes }) => ({
          ...{ x: repeat, y: minutes },
          label: `Repeat ${shortly(repeat)}: ${toDecimals(minutes, 1)} min`,
        })),
        line: ahead.map(({ x, minutes }) => ({ x, y: minutes })),
        band: ahead.map(({ x, curve: [low, high] }) => ({ x, low, high })),
      },
      {
        id: 'learning',
        caption: `Points: one a ${by}. Line: the curve, minutes = ${toSignificant(found.firstRepeatMinutes, 3)} x repeat^${toSignificant(found.exponent, 3)}. Shaded: where the curve lies with 95 %; single repeats scatter further.`,
        columns: ['Repeat', 'Minutes', 'On the curve', 'Band from', 'to'],
        rows: points.map(({ repeat, minutes }) => {
          const on = repeatAhead(line, repeat)
          const cells = [minutes, on.minutes, ...on.curve].map((value) => toDecimals(value, 1))
          return { path: '', head: shortly(repeat), cells }
        }),
      },
    ),
  }
}

/** 12 is 12, and the middle of repeats 4 to 7 is 5.5. */
const shortly = (repeat: number) => String(Number(repeat.toFixed(1)))

function sayTooFew(n: number, by: LearningBase['by']): string {
  const points = `${n} ${n === 1 ? by : `${by}s`}`
  if (n < LEAST_LEARNING_POINTS)
    return `A learning curve needs ${LEAST_LEARNING_POINTS} repeats followed by steps, or ${LEAST_LEARNING_POINTS} sittings that say how far they came; there ${n === 1 ? 'is' : 'are'} ${points} so far.`
  return `The ${points} stand too close together to carry a curve.`
}
