import { toDecimals, toSignificant } from '../../shared/measure/rounding.ts'
import { predictLine } from '../../shared/measure/line-interval.ts'
import { LEAST_PIECES, trendOf, type PaceTrend } from '../../shared/work/pace-across.ts'
import type { PageHead } from '../pages.ts'
import { toChartView, type ChartView } from '../plot/view.ts'
import type { PacedPiece } from './across.ts'

declare module '../pages.ts' {
  interface Pages {
    'pace/across': AcrossPage
  }
}

interface AcrossPage extends PageHead {
  readonly makers: readonly { readonly name: string; readonly path: string; readonly isShown: boolean }[]
  readonly maker: string
  /** How many pieces are shown. */
  readonly n: number
  readonly least: number
  readonly measures: readonly { readonly title: string; readonly words: string; readonly chart: ChartView | '' }[]
}

interface Measure {
  readonly key: string
  readonly title: string
  readonly axis: string
  /** What one more of it is, for the sentence. */
  readonly more: string
  readonly of: (piece: PacedPiece) => number | undefined
  readonly decimals: number
}

const MEASURES: readonly Measure[] = [
  {
    ...{ key: 'handfuls', title: 'Handfuls', axis: 'Handfuls of tablets in a pick, mean', decimals: 2 },
    more: 'With each further handful in a pick',
    of: ({ handfuls }) => handfuls,
  },
  {
    ...{ key: 'surprise', title: 'Surprise', axis: 'Surprise of a pick after the one before it, bits', decimals: 2 },
    more: 'With each further bit of surprise',
    of: ({ bits }) => bits,
  },
  {
    ...{ key: 'tablets', title: 'Tablets', axis: 'Tablets', decimals: 0 },
    more: 'With each further tablet',
    of: ({ tablets }) => tablets,
  },
  {
    ...{ key: 'yarn', title: 'Yarn', axis: 'Warp yarn, plied, tex', decimals: 0 },
    more: 'With each further tex of the warp yarn',
    of: ({ tex }) => tex,
  },
]

const CURVE_POINTS = 24

/**
 * @param pieces all that the viewer may see
 * @param asked maker whose pieces are shown; else the one with most of them, for two makers have two paces
 * @param base public base path, for the links in the pictures
 */
export function acrossPage(pieces: readonly PacedPiece[], asked: string, base: string): AcrossPage {
  const makers = [...new Set(pieces.map(({ maker }) => maker))]
  const count = (maker: string) => pieces.filter((piece) => piece.maker === maker).length
  const most = makers.reduce((best, maker) => (count(maker) > count(best) ? maker : best), makers[0] ?? '')
  const maker = makers.includes(asked) ? asked : most
  const own = pieces.filter((piece) => piece.maker === maker)
  return {
    ...{ title: 'Pace across pieces', section: 'pieces', maker, n: own.length, least: LEAST_PIECES },
    makers: makers.map((name) => ({
      name: name || 'maker not named',
      path: `/pace?maker=${encodeURIComponent(name)}`,
      isShown: name === maker,
    })),
    measures: own.length === 0 ? [] : MEASURES.map((measure) => toMeasureView(measure, own, base)),
  }
}

function toMeasureView(measure: Measure, pieces: readonly PacedPiece[], base: string) {
  const known = pieces.flatMap((piece) => {
    const x = measure.of(piece)
    return x === undefined ? [] : [{ ...piece, x }]
  })
  if (known.length === 0) return { title: measure.title, words: 'No piece says this of itself.', chart: '' as const }
  const trend = trendOf(known)
  const xs = known.map(({ x }) => x)
  const [least, most] = [Math.min(...xs), Math.max(...xs)]
  const along = trend
    ? Array.from({ length: CURVE_POINTS + 1 }, (_, at) => least + ((most - least) * at) / CURVE_POINTS).map((x) => ({
        x,
        ...predictLine(trend.line, x),
      }))
    : []
  const value = (x: number) => toDecimals(x, measure.decimals)
  return {
    title: measure.title,
    words: sayTrend(measure, trend, known),
    chart: toChartView(
      {
        name: `Seconds a pick against: ${measure.axis}. ${known.length} pieces, each a link to its pace.`,
        x: { label: measure.axis },
        y: { label: 'Seconds a pick', startsAtZero: true },
        points: known.map(({ id, name, x, seconds }) => ({
          ...{ x, y: seconds, href: `${base}/pieces/${id}/pace` },
          label: `${name}: ${value(x)}, ${toSignificant(seconds, 3)} s`,
        })),
        line: along.map(({ x, y }) => ({ x, y: Math.exp(y) })),
        band: along.map(({ x, mean: [low, high] }) => ({ x, low: Math.exp(low), high: Math.exp(high) })),
      },
      {
        id: measure.key,
        caption: trend ? 'One point a piece. Line and 95 % band of the trend.' : 'One point a piece.',
        columns: ['Piece', measure.axis, 'Seconds a pick', 'Sittings'],
        rows: known.map(({ id, name, x, seconds, sittings }) => ({
          ...{ path: `/pieces/${id}/pace`, head: name },
          cells: [value(x), toSignificant(seconds, 3), String(sittings)],
        })),
      },
    ),
  }
}

function sayTrend({ more }: Measure, trend: PaceTrend | null, known: readonly { readonly x: number }[]): string {
  const n = `n = ${known.length} ${known.length === 1 ? 'piece' : 'pieces'}`
  if (known.length < LEAST_PIECES) return `Nothing is claimed on fewer than ${LEAST_PIECES} pieces; ${n}.`
  if (!trend) return `All of them are alike in this, so nothing can be told; ${n}.`
  const percent = (factor: number) => `${factor < 1 ? '-' : '+'}${toSignificant(Math.abs(factor - 1) * 100, 2)} %`
  const [low, high] = trend.interval
  const interval = `95 % interval ${percent(low)} to ${percent(high)}, ${n}`
  if (!trend.isClear)
    return `No trend can be told from chance: ${more.toLowerCase()}, ${percent(trend.factor)} (${interval}).`
  const longer = trend.factor > 1 ? 'longer' : 'less long'
  return `${more}, a pick takes ${toSignificant(Math.abs(trend.factor - 1) * 100, 2)} % ${longer} (${interval}).`
}
