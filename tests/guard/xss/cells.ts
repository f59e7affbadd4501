import { buffer } from 'node:stream/consumers'
import { parse } from 'csv-parse/sync'
import { fromBufferPromise } from 'yauzl'

/**
 * Cells of the tables in an archive that a table program would compute: OWASP's list of beginnings (`=`, `+`, `-`, `@`,
 * tab, line end), and their full-width forms, from memory. A number stays one.
 */
export async function listFormulas(archive: Buffer): Promise<string[]> {
  const zip = await fromBufferPromise(archive, { lazyEntries: true })
  const found: string[] = []
  let tables = 0
  for await (const entry of zip.eachEntry()) {
    if (!entry.fileName.endsWith('.csv')) continue
    tables += 1
    const table = await buffer(await zip.openReadStreamPromise(entry))
    found.push(...listFormulaCells(table).map((cell) => `${entry.fileName}: ${cell}`))
  }
  return tables === 0 ? ['there is no table in this archive'] : found
}

/** The same of one table. */
export function listFormulaCells(table: Buffer): string[] {
  const rows = parse(table, { bom: true, relax_column_count: true }) as string[][]
  return rows
    .flat()
    .filter(isFormula)
    .map((cell) => cell.slice(0, 60))
}

export const isFormula = (cell: string): boolean =>
  /^[=+\-@\t\r\n\uff1d\uff0b\uff0d\uff20]/.test(cell) && !/^[+-]?\d+(\.\d+)?$/.test(cell)
