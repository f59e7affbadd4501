import { drawChart, type Chart } from './chart.ts'
import type { Html } from '../pages.ts'

/** A chart with the table of its figures, for `{{> chart chart}}`. */
export interface ChartView {
  readonly picture: Html
  readonly caption: string
  readonly id: string
  readonly columns: readonly string[]
  readonly rows: readonly { readonly path: string; readonly head: string; readonly cells: readonly string[] }[]
}

/**
 * @param columns headings, that of the first column too
 * @param rows what stands first in each, where it leads to (or nowhere), and the other cells
 */
export function toChartView(chart: Chart, { id, caption, columns, rows }: Omit<ChartView, 'picture'>): ChartView {
  return { picture: drawChart(chart), id, caption, columns, rows }
}
