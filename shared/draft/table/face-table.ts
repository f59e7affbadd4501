import { COLOUR_KEY } from '../document-shape.ts'
import { type ColourKey, type Draft, MOST_PICKS, MOST_TABLETS } from '../draft.ts'
import { turningOf } from '../turning.ts'
import { weave } from '../weave.ts'
import { MOST_TABLE_PROBLEMS, splitTable, type TableProblem, type TableRow } from './cell.ts'

export type ReadFaceTable =
  | {
      readonly ok: true
      /** Picks x tablets; null is not legible, or no thread. */
      readonly cells: readonly (readonly (ColourKey | null)[])[]
      /** Lines of the form's colours that the table brought: `m madder #9c3b2e`. */
      readonly colours: readonly string[]
      /** Every key in it, in the order of the alphabet. */
      readonly keys: readonly ColourKey[]
    }
  | { readonly ok: false; readonly problems: readonly TableProblem[] }

const LABELS = ['pick', 'title', 'weft', 'colour'] as const
const isBlank = (cell: string) => cell === '' || cell === '.' || cell === '-'
const isKey = (cell: string) => COLOUR_KEY.test(cell.toLowerCase())

/**
 * Reads a table of the colours of a face: a row a pick, a column a tablet, a colour key in each cell; an empty cell, `.`
 * or `-` is not legible. Rows with labels may stand before: `pick` (tablet numbers), `title`, `weft`, `colour` (key,
 * name, # and six digits).
 * @param rows at least one, each with at least one cell
 * @returns the cells, every row as long as the longest; or the problems by row and column, 50 at most
 * @example readFaceTable([{ row: 1, cells: ['m', '.', 'W'] }]).cells // [['m', null, 'w']]
 * Source: our own table.
 */
export function readFaceTable(rows: readonly TableRow[]): ReadFaceTable {
  // A number may be a key or the number of a pick: a first column that counts 1, 2, 3 … is taken as numbers.
  const isCounted = rows.some(({ cells }) => (LABELS as readonly string[]).includes(cells[0]!.toLowerCase()))
  const numbers = rows.map(({ cells }) => cells[0]!)
  const counts = numbers.every((cell, at) => cell === String(at + 1)) && rows[0]!.cells.length > 1
  const split = splitTable(rows, LABELS, isCounted || counts)
  const problems: TableProblem[] = [...split.problems]
  const complain = (row: number, message: string, column?: number): void => {
    if (problems.length < MOST_TABLE_PROBLEMS)
      problems.push(column === undefined ? { row, message } : { row, column, message })
  }
  const first = split.hasLabels ? 2 : 1
  const row = split.picks[0]?.row ?? 1
  const tablets = split.picks.reduce((most, { cells }) => Math.max(most, cells.length), 0)
  if (tablets === 0) complain(row, 'No pick found: a row of a pick holds a colour key for every tablet.')
  if (tablets > MOST_TABLETS) complain(row, `${tablets} tablets found, at most ${MOST_TABLETS} are read.`)
  if (split.picks.length > MOST_PICKS)
    complain(row, `${split.picks.length} picks found, at most ${MOST_PICKS} are read.`)
  if (problems.length > 0) return { ok: false, problems }

  const keys = new Set<ColourKey>()
  const cells = split.picks.map(({ row, cells: own }) =>
    Array.from({ length: tablets }, (_, tablet): ColourKey | null => {
      const cell = (own[tablet] ?? '').toLowerCase()
      if (isBlank(cell)) return null
      if (!isKey(cell)) {
        complain(
          row,
          `“${cell.slice(0, 12)}” is no colour key: 1 to 8 of a-z and 0-9; “.” is not legible.`,
          first + tablet,
        )
        return null
      }
      keys.add(cell)
      return cell
    }),
  )
  const colours = split.labelled
    .filter(({ label }) => label === 'colour')
    .map(({ cells: [key = '', name = '', hex = ''] }) => [key.toLowerCase(), name, hex].filter(Boolean).join(' '))
  if (problems.length === 0 && keys.size === 0) complain(row, 'No cell of this table is legible.')
  if (problems.length > 0) return { ok: false, problems }
  return { ok: true, cells, colours, keys: [...keys].sort() }
}

/**
 * The face that a draft weaves as a table that `readFaceTable` takes back: colour keys by pick and tablet; `.` where no
 * thread shows.
 * @param side which face
 * @returns rows of cells, labels first
 * @throws RangeError when its picks cannot be read
 * @example writeFaceTable(draft, 'face')[0] // ['colour', 'm', 'madder', '#9c3b2e']
 */
export function writeFaceTable(draft: Draft, side: 'face' | 'reverse'): string[][] {
  const woven = weave(draft, turningOf(draft))
  const colourAt = (at: number, tablet: number) => {
    const hole = woven[side][at]!
    return (hole < 0 ? null : draft.tablets[tablet]!.holes[hole]) ?? '.'
  }
  return [
    ...Object.entries(draft.colours).map(([key, { name, hex }]) => ['colour', key, name, hex]),
    ['pick', ...draft.tablets.map((_, at) => String(at + 1))],
    ...Array.from({ length: woven.picks }, (_, pick) => [
      String(pick + 1),
      ...draft.tablets.map((_, tablet) => colourAt(pick * woven.tablets + tablet, tablet)),
    ]),
  ]
}
