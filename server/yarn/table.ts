import { createHash } from 'node:crypto'
import { gramsText, readGrams } from '../../shared/yarn/ledger.ts'
import { sayTablePlace, type TableProblem } from '../../shared/draft/table/cell.ts'
import { readTable } from '../draft-import/table.ts'
import { readEntered } from '../form.ts'
import { readLotForm, typedLot, type LotEntered, type LotForm } from './lot-form.ts'
import type { ShelfLot } from './queries.ts'
import { readYarnForm, typedYarn, type YarnEntered, type YarnForm } from './yarn-form.ts'

type Column = keyof YarnEntered | Exclude<keyof LotEntered, 'supplier' | 'notes'> | 'lotSupplier' | 'lotNotes' | 'grams'

/** The columns of the table, by what stands over them; in and out are the same. */
export const COLUMNS: readonly (readonly [column: Column, heading: string])[] = [
  ['name', 'Yarn'],
  ['blend', 'Fibres'],
  ['count', 'Count'],
  ['countReading', 'Reading'],
  ['build', 'Spin and ply'],
  ['wrapsPerCm', 'Wraps per cm'],
  ['diameterMm', 'Diameter mm'],
  ['supplier', 'Yarn supplier'],
  ['notes', 'Yarn notes'],
  ['colourName', 'Colour'],
  ['colourHex', 'Screen colour'],
  ['colourLab', 'CIELAB'],
  ['dye', 'Dye'],
  ['mordant', 'Mordant'],
  ['recipe', 'Recipe'],
  ['dyedBy', 'Dyed by'],
  ['dyedOn', 'Dyed on'],
  ['lotNumber', 'Lot number'],
  ['lotSupplier', 'Lot supplier'],
  ['price', 'Price'],
  ['priceCurrency', 'Currency'],
  ['priceFor', 'Price for'],
  ['lotNotes', 'Lot notes'],
  ['grams', 'On hand g'],
]

const LOT_OF: Readonly<Partial<Record<Column, keyof LotEntered>>> = { lotSupplier: 'supplier', lotNotes: 'notes' }

/** Every lot as a row of cells, under the headings; what is on hand is the sum of its ledger. */
export function writeLots(lots: readonly ShelfLot[]): string[][] {
  const rows = lots.map((lot) => {
    const [yarn, typed] = [typedYarn(lot.yarn), typedLot(lot)]
    return COLUMNS.map(([column]) => {
      if (column === 'grams') return gramsText(lot.onHandMg)
      return column in yarn ? yarn[column as keyof YarnEntered] : typed[LOT_OF[column] ?? (column as keyof LotEntered)]
    })
  })
  return [COLUMNS.map(([, heading]) => heading), ...rows]
}

/** A row that can be kept. */
export interface TableLot {
  readonly row: number
  readonly yarn: YarnForm
  readonly lot: LotForm
  readonly onHandMg: number
}

export interface ReadLots {
  readonly text: string
  /** Empty unless nothing is wrong: a table is kept whole or not at all. */
  readonly lots: readonly TableLot[]
  readonly problems: readonly { readonly place: string; readonly message: string }[]
  /** Of what was looked at: kept only where the form still says it. */
  readonly looked: string
  readonly isLookedAt: boolean
  readonly keep: boolean
}

const MOST_PROBLEMS = 50
/** As many lots as one table brings. Our own. */
const MOST_LOTS = 2000

/** A table of lots as it was pasted or chosen. Nothing of it is kept by reading it. */
export function readLots(body: unknown, today: string): ReadLots {
  const { document, looked: seen, keep } = readEntered(body, ['document', 'looked', 'keep'])
  const looked = createHash('sha256').update(document).digest('hex')
  const read = readRows(document, today)
  return {
    ...{ text: document, looked, isLookedAt: seen === looked, keep: keep !== '' },
    lots: read.problems.length === 0 ? read.lots : [],
    problems: read.problems
      .slice(0, MOST_PROBLEMS)
      .map((problem) => ({ place: sayTablePlace(problem), message: problem.message })),
  }
}

function readRows(text: string, today: string): { lots: TableLot[]; problems: TableProblem[] } {
  if (text.trim() === '')
    return { lots: [], problems: [{ row: 1, message: 'Please paste a table, or choose its file.' }] }
  const table = readTable(text)
  if (!table.ok) return { lots: [], problems: [...table.problems] }
  const [head, ...rows] = table.rows
  const problems: TableProblem[] = []
  const at = new Map<Column, number>()
  head!.cells.forEach((cell, index) => {
    const found = COLUMNS.find(([, heading]) => heading.toLowerCase() === cell.toLowerCase())?.[0]
    if (found && !at.has(found)) return void at.set(found, index)
    if (found) return void problems.push({ row: head!.row, column: index + 1, message: `“${cell}” is there twice.` })
    if (cell !== '' || rows.some(({ cells }) => (cells[index] ?? '') !== ''))
      problems.push({
        ...{ row: head!.row, column: index + 1 },
        message: `No column is called “${cell}” here, and its cells would be lost. Call it by one of the headings below, or take it out.`,
      })
  })
  for (const needed of ['name', 'colourName'] as const)
    if (!at.has(needed)) {
      const heading = COLUMNS.find(([column]) => column === needed)![1]
      problems.push({ row: head!.row, message: `A column with the heading “${heading}” is needed.` })
    }
  if (rows.length === 0) problems.push({ row: head!.row, message: 'Below the headings stands no lot.' })
  if (rows.length > MOST_LOTS)
    problems.push({ row: rows[MOST_LOTS]!.row, message: `At most ${MOST_LOTS} lots are read at once.` })
  if (problems.length > 0) return { lots: [], problems }
  const lots = rows.flatMap(({ row, cells }) => {
    const beyond = cells.findIndex((cell, index) => index >= head!.cells.length && cell !== '')
    if (beyond >= 0) problems.push({ row, column: beyond + 1, message: 'This cell stands under no heading.' })
    const lot = readRow(row, (column) => cells[at.get(column) ?? -1] ?? '', today)
    for (const { column, message } of lot.problems) problems.push({ row, column: (at.get(column) ?? 0) + 1, message })
    return lot.value ? [lot.value] : []
  })
  return { lots, problems }
}

function readRow(
  row: number,
  cell: (column: Column) => string,
  today: string,
): { value: TableLot | undefined; problems: { column: Column; message: string }[] } {
  const yarn = readYarnForm(Object.fromEntries(COLUMNS.map(([column]) => [column, cell(column)])))
  const lot = readLotForm(
    Object.fromEntries(
      COLUMNS.flatMap(([column]) => (column in BLANK ? [] : [[LOT_OF[column] ?? column, cell(column)]])),
    ),
    today,
  )
  const grams = cell('grams') === '' ? 0 : readGrams(cell('grams'))
  const problems: { column: Column; message: string }[] = []
  if (!yarn.ok)
    for (const [column, message = ''] of Object.entries(yarn.problems))
      problems.push({
        column: column === 'countReading' && cell('countReading') === '' ? 'count' : (column as Column),
        message: yarn.readings?.length
          ? `${message} Write one of these under Reading: ${yarn.readings.map((one) => `${one.system} ${one.value} ${one.ply} ${one.of}`).join('; ')}.`
          : message,
      })
  if (!lot.ok)
    for (const [field, message = ''] of Object.entries(lot.problems))
      problems.push({ column: columnOf(field as keyof LotEntered), message })
  if (grams === undefined) problems.push({ column: 'grams', message: 'Grams from 0, such as 97.4, to a milligram.' })
  const isRight = yarn.ok && lot.ok && grams !== undefined
  return { value: isRight ? { row, yarn: yarn.value, lot: lot.value, onHandMg: grams } : undefined, problems }
}

const BLANK: Readonly<Partial<Record<Column, 1>>> = {
  ...{ name: 1, blend: 1, count: 1, countReading: 1, build: 1, wrapsPerCm: 1, diameterMm: 1, supplier: 1, notes: 1 },
}
const columnOf = (field: keyof LotEntered): Column =>
  field === 'supplier' ? 'lotSupplier' : field === 'notes' ? 'lotNotes' : field
