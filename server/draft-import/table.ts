import { parse } from 'csv-parse/sync'
import type { TableProblem, TableRow } from '../../shared/draft/table/cell.ts'

export type ReadTable =
  | { readonly ok: true; readonly rows: readonly TableRow[] }
  | { readonly ok: false; readonly problems: readonly TableProblem[] }

/** More cells than any draft has that is read: 400 tablets by 20,000 picks and their labels. */
const MOST_ROWS = 20_500
const MOST_COLUMNS = 402

/**
 * The cells of a table as spreadsheets save it: parted by commas, semicolons or tabs, whichever its first line has most
 * of. Empty rows are passed over, but keep their number.
 */
export function readTable(text: string): ReadTable {
  const first = /[^\r\n]*\S[^\r\n]*/.exec(text)?.[0] ?? ''
  const many = (mark: string) => first.split(mark).length
  const delimiter = [',', ';', '\t'].reduce((best, mark) => (many(mark) > many(best) ? mark : best))
  let records: { record: string[]; info: { lines: number } }[]
  try {
    records = parse(text, {
      ...{ bom: true, delimiter, relax_column_count: true, info: true, trim: true, to: MOST_ROWS + 1 },
      ...{ skip_empty_lines: false, max_record_size: 100_000 },
    }) as unknown as typeof records
  } catch (error) {
    return { ok: false, problems: [toProblem(error)] }
  }
  const rows = records
    .map(({ record }, at) => ({ row: at + 1, cells: record.map(withoutGuard) }))
    .filter(({ cells }) => cells.some((cell) => cell !== ''))
  if (rows.length === 0) return { ok: false, problems: [{ row: 1, message: 'This table has no cells.' }] }
  if (records.length > MOST_ROWS) {
    return { ok: false, problems: [{ row: MOST_ROWS + 1, message: `At most ${MOST_ROWS} rows are read.` }] }
  }
  const wide = rows.find(({ cells }) => cells.length > MOST_COLUMNS && cells.slice(MOST_COLUMNS).some(Boolean))
  if (wide) return { ok: false, problems: [{ row: wide.row, message: `At most ${MOST_COLUMNS} columns are read.` }] }
  return { ok: true, rows }
}

/** The apostrophe that keeps a spreadsheet from taking a cell for a formula; our own tables are written with it. */
const withoutGuard = (cell: string) => (/^'\s*[=+\-@]/.test(cell) ? cell.slice(1) : cell)

/** What csv-parse says, by its code; its own sentences speak of options that nobody here has seen. */
function toProblem(error: unknown): TableProblem {
  const { code, lines } = error as { code?: string; lines?: number }
  if (code === undefined) throw error
  const row = lines ?? 1
  if (code === 'CSV_QUOTE_NOT_CLOSED') return { row, message: 'A quotation mark is opened and not closed.' }
  if (/QUOTE/.test(code)) return { row, message: 'A quotation mark stands in the middle of a cell.' }
  if (code === 'CSV_MAX_RECORD_SIZE') return { row, message: 'This row is longer than any that is read.' }
  return { row, message: 'This row cannot be read as cells.' }
}
