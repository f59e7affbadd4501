import { stringify } from 'csv-stringify/sync'

/** A cell that a spreadsheet would take for a formula, also behind spaces, stands behind an apostrophe. */
const guarded = (cell: string) => (/^\s+[=+\-@]/.test(cell) ? `'${cell}` : cell)

/** Rows of cells as a file for a spreadsheet: UTF-8 with its mark, so that every one reads the letters right. */
export const writeTable = (rows: readonly (readonly string[])[]): string =>
  stringify(
    rows.map((row) => row.map(guarded)),
    { bom: true, escape_formulas: true, record_delimiter: 'windows' },
  )
