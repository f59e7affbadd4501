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
    const rows = parse(await buffer(await zip.openReadStreamPromise(entry)), { bom: true }) as string[][]
    for (const cell of rows.flat()) if (isFormula(cell)) found.push(`${entry.fileName}: ${cell.slice(0, 60)}`)
  }
  return tables === 0 ? ['there is no table in this archive'] : found
}

export const isFormula = (cell: string): boolean =>
  /^[=+\-@\t\r\n\uff1d\uff0b\uff0d\uff20]/.test(cell) && !/^[+-]?\d+(\.\d+)?$/.test(cell)
