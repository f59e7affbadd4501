/** One row of a table as it was read: its place in the file, and its cells without the space around them. */
export interface TableRow {
  /** Counted from 1, as a spreadsheet counts. */
  readonly row: number
  readonly cells: readonly string[]
}

/** What is wrong in a table, and in which cell; without a column it is the whole row. */
export interface TableProblem {
  readonly row: number
  /** Counted from 1. */
  readonly column?: number
  readonly message: string
}

/** How many problems are listed before reading stops. Our own. */
export const MOST_TABLE_PROBLEMS = 50

/**
 * A column as a spreadsheet names it.
 * @param column counted from 1
 * @throws RangeError when it is not a whole number from 1
 * @example columnName(1) // 'A'; columnName(28) // 'AB'
 */
export function columnName(column: number): string {
  if (!Number.isInteger(column) || column < 1)
    throw new RangeError(`column must be a whole number from 1, not ${column}`)
  let [name, rest] = ['', column]
  while (rest > 0) {
    name = String.fromCharCode(65 + ((rest - 1) % 26)) + name
    rest = Math.floor((rest - 1) / 26)
  }
  return name
}

/**
 * Where a problem stands: `row 4, column C`.
 * @example sayTablePlace({ row: 4, column: 3, message: '…' }) // 'Row 4, column C'
 */
export const sayTablePlace = ({ row, column }: TableProblem): string =>
  column === undefined ? `Row ${row}` : `Row ${row}, column ${columnName(column)}`

/** The rows of a table that are picks, cut to their cells, and the lines before them by their label. */
export interface SplitTable {
  readonly picks: readonly { readonly row: number; readonly cells: readonly string[] }[]
  /** Whether the first column holds labels; then a cell's column is one more than its tablet. */
  readonly hasLabels: boolean
  readonly labelled: readonly { readonly label: string; readonly row: number; readonly cells: readonly string[] }[]
  readonly problems: readonly TableProblem[]
}

/**
 * Tells the picks of a table from the lines that say what they are about. With labels in the first column a pick's label
 * is its number; the numbers must run 1, 2, 3 … downward, or all the way upward, and then the rows are turned round.
 * Without any label every row is a pick, pick 1 first.
 * @param labels that may stand in the first column beside numbers, in lower case
 * @param hasLabels whether the first column holds labels; only the kind of table can tell
 * @example splitTable(rows of ['pick','1','2'], ['1','F','F'], ['2','F','B'], ['pick'], true).picks // two, of two cells
 */
export function splitTable(rows: readonly TableRow[], labels: readonly string[], hasLabels: boolean): SplitTable {
  if (!hasLabels) return { picks: rows, hasLabels, labelled: [], problems: [] }
  const problems: TableProblem[] = []
  const picks: { row: number; cells: readonly string[]; number: number }[] = []
  const labelled: { label: string; row: number; cells: readonly string[] }[] = []
  for (const { row, cells } of rows) {
    const label = cells[0]!.toLowerCase()
    const rest = cells.slice(1)
    if (/^\d{1,6}$/.test(label)) picks.push({ row, cells: rest, number: Number(label) })
    else if (labels.includes(label)) labelled.push({ label, row, cells: rest })
    else if (problems.length < MOST_TABLE_PROBLEMS)
      problems.push({ row, column: 1, message: sayLabels(cells[0]!, labels) })
  }
  const isUpward = picks.length > 1 && picks[0]!.number === picks.length && picks.at(-1)!.number === 1
  if (isUpward) picks.reverse()
  const wrong = picks.findIndex(({ number }, at) => number !== at + 1)
  if (wrong >= 0) {
    const { row, number } = picks[wrong]!
    problems.push({ row, column: 1, message: `Numbered ${number}, but it is pick ${wrong + 1}.` })
  }
  return { picks, hasLabels: true, labelled, problems }
}

function sayLabels(found: string, labels: readonly string[]): string {
  const what = found === '' ? 'An empty cell' : `“${found.slice(0, 20)}”`
  return `${what} is no pick number and none of the labels: ${labels.join(', ')}.`
}
