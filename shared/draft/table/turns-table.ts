import { readDraft } from '../document.ts'
import { type Colour, type Draft, HOLES, MOST_PICKS, MOST_TABLETS, type Tablet } from '../draft.ts'
import { turningOf, writeTurning } from '../turning.ts'
import { MOST_TABLE_PROBLEMS, splitTable, type TableProblem, type TableRow } from './cell.ts'

/** A table of turns: the whole draft where it has the threading too, else its picks alone. */
export type ReadTurnsTable =
  | { readonly ok: true; readonly draft: Draft }
  | { readonly ok: true; readonly draft: undefined; readonly picks: readonly string[]; readonly tablets: number }
  | { readonly ok: false; readonly problems: readonly TableProblem[] }

const HOLE_LABELS = ['a', 'b', 'c', 'd'] as const
const LABELS = ['pick', 'title', 'weft', 'colour', 'threading', ...HOLE_LABELS, 'start', 'part'] as const

const TURNS: Readonly<Record<string, number>> = {
  ...{ f: 1, b: -1, i: 0, '2f': 2, '2b': -2, '(2f)': 2, '(2b)': -2 },
}
const TURN_WORDS = new Map([
  [1, 'F'],
  [-1, 'B'],
  [0, 'I'],
  [2, '2F'],
  [-2, '2B'],
])

/** Whether a cell is a turn as this table writes it, in either case: F, B, I, 2F, 2B. */
export const isTurnCell = (text: string): boolean => Object.hasOwn(TURNS, text.toLowerCase())

/**
 * Reads a table of turns: a row a pick, a column a tablet, F, B, I, 2F or 2B in each cell. Rows with labels may stand
 * before: `pick` (tablet numbers, checked), `title`, `weft`, `colour` (key, name, # and six digits), `threading` (S or
 * Z), `A` to `D` (colour keys, `.` or `-` for an empty hole), `start`, `part`.
 * @param rows at least one, each with at least one cell
 * @param title of the draft where the table has none
 * @returns the draft; its picks alone where there is no row `threading`; or the problems by row and column, 50 at most
 * @example readTurnsTable([{ row: 1, cells: ['F', 'B'] }], '') // { ok: true, draft: undefined, picks: ['1F 1B'], tablets: 2 }
 * @example a cell “X” in the second row: problem row 2, “X” is no turn …
 * Source: our own table.
 */
export function readTurnsTable(rows: readonly TableRow[], title: string): ReadTurnsTable {
  // B is a turn as well as a hole, so only what cannot be a turn tells that the first column holds labels.
  const isLabel = (text: string) =>
    /^\d+$/.test(text) || (text.length > 1 && (LABELS as readonly string[]).includes(text))
  const hasLabels = rows.some(({ cells }) => isLabel(cells[0]!.toLowerCase()))
  const split = splitTable(rows, LABELS, hasLabels)
  const problems: TableProblem[] = [...split.problems]
  const complain = (row: number, message: string, column?: number): void => {
    if (problems.length < MOST_TABLE_PROBLEMS)
      problems.push(column === undefined ? { row, message } : { row, column, message })
  }
  const first = split.hasLabels ? 2 : 1
  const tablets = split.picks[0] ? trimmed(split.picks[0].cells).length : 0
  const row = split.picks[0]?.row ?? 1
  if (tablets === 0) complain(row, 'No turns found: a row of a pick holds F, B, I, 2F or 2B for every tablet.')
  if (tablets > MOST_TABLETS) complain(row, `${tablets} tablets found, at most ${MOST_TABLETS} are read.`)
  if (split.picks.length > MOST_PICKS)
    complain(row, `${split.picks.length} picks found, at most ${MOST_PICKS} are read.`)
  if (problems.length > 0) return { ok: false, problems }

  const turns = new Int8Array(tablets * split.picks.length)
  split.picks.forEach(({ row, cells }, pick) => {
    const own = trimmed(cells)
    if (own.length !== tablets) complain(row, `Pick ${pick + 1}: ${own.length} tablets found, ${tablets} needed.`)
    own.forEach((cell, tablet) => {
      const turn = TURNS[cell.toLowerCase()]
      if (turn === undefined || !isTurnCell(cell)) complain(row, sayTurn(cell), first + tablet)
      else if (tablet < tablets) turns[pick * tablets + tablet] = turn
    })
  })
  const heads = readHeads(split.labelled, tablets, complain)
  if (problems.length > 0) return { ok: false, problems }
  const picks = writeTurning({ tablets, picks: split.picks.length, turns })
  if (!heads.threading) return { ok: true, draft: undefined, picks, tablets }
  return toDraft(heads, { title: heads.title || title, picks, tablets }, heads.threading.row)
}

function sayTurn(cell: string): string {
  const what = cell === '' ? 'An empty cell' : `“${cell.slice(0, 12)}”`
  return `${what} is no turn; a turn is F, B, I (idle), 2F or 2B.`
}

/** Spreadsheets write empty cells out to the width of the widest row. */
function trimmed(cells: readonly string[]): readonly string[] {
  let end = cells.length
  while (end > 0 && cells[end - 1] === '') end--
  return cells.slice(0, end)
}

interface Heads {
  title: string
  weft: string
  readonly colours: Record<string, Colour>
  readonly lines: Map<string, { row: number; cells: readonly string[] }>
  threading: { row: number; cells: readonly string[] } | undefined
}

type Complain = (row: number, message: string, column?: number) => void

/** The rows before the picks. What their cells say is looked at here as far as the document's own reader cannot name the cell. */
function readHeads(
  labelled: readonly { label: string; row: number; cells: readonly string[] }[],
  tablets: number,
  complain: Complain,
): Heads {
  const heads: Heads = { title: '', weft: '', colours: {}, lines: new Map(), threading: undefined }
  for (const { label, row, cells } of labelled) {
    if (label === 'title') heads.title = cells[0] ?? ''
    else if (label === 'weft') heads.weft = (cells[0] ?? '').toLowerCase()
    else if (label === 'colour') readColour(heads.colours, row, cells, complain)
    else if (heads.lines.has(label)) complain(row, `A row “${label}” stands above already.`, 1)
    else {
      const own = trimmed(cells)
      heads.lines.set(label, { row, cells: own })
      if (own.length !== tablets) complain(row, `${own.length} tablets found, ${tablets} needed.`)
      own.forEach((cell, at) => {
        const why = whyNot(label, cell, at + 1)
        if (why !== undefined) complain(row, why, at + 2)
      })
    }
  }
  heads.threading = heads.lines.get('threading')
  for (const label of heads.threading ? HOLE_LABELS : []) {
    if (!heads.lines.has(label))
      complain(
        heads.threading!.row,
        `With a row “threading” stands a row “${label.toUpperCase()}”, the colours of that hole.`,
      )
  }
  return heads
}

function readColour(colours: Record<string, Colour>, row: number, cells: readonly string[], complain: Complain): void {
  const [key = '', name = '', hex = ''] = cells
  if (!/^[a-z0-9]{1,8}$/i.test(key)) complain(row, `“${key.slice(0, 12)}” is no colour key: 1 to 8 of a-z and 0-9.`, 2)
  else if (!/^#[0-9a-f]{6}$/i.test(hex))
    complain(row, `“${hex.slice(0, 12)}” is no colour: # and six of 0-9 and a-f.`, 4)
  else colours[key.toLowerCase()] = { name: name || key, hex: hex.toLowerCase() }
}

const isNoThread = (cell: string) => cell === '.' || cell === '-'

function whyNot(label: string, cell: string, tablet: number): string | undefined {
  const said = cell === '' ? 'An empty cell' : `“${cell.slice(0, 12)}”`
  if (label === 'pick') return cell === String(tablet) ? undefined : `${said} stands over tablet ${tablet}.`
  if (label === 'threading') return /^[sz]$/i.test(cell) ? undefined : `${said} is not S or Z.`
  if (label === 'start') return /^[a-d]$/i.test(cell) ? undefined : `${said} is no hole: A, B, C or D.`
  if (label === 'part') return /^(border|pattern)$/i.test(cell) ? undefined : `${said} is not border or pattern.`
  return isNoThread(cell) || /^[a-z0-9]{1,8}$/i.test(cell)
    ? undefined
    : `${said} is no colour key; “.” is an empty hole.`
}

function toDraft(
  { colours, weft, lines }: Heads,
  { title, picks, tablets }: { title: string; picks: readonly string[]; tablets: number },
  row: number,
): ReadTurnsTable {
  const cellOf = (label: string, at: number) => lines.get(label)?.cells[at]
  const holesOf = (at: number) =>
    HOLE_LABELS.map((label) => (isNoThread(cellOf(label, at)!) ? null : cellOf(label, at)!.toLowerCase()))
  const document = {
    ...{ title, colours, weft: weft || (Object.keys(colours)[0] ?? ''), picks },
    tablets: Array.from({ length: tablets }, (_, at) => ({
      threading: cellOf('threading', at)!.toUpperCase(),
      holes: holesOf(at),
      start: cellOf('start', at)?.toUpperCase() ?? 'A',
      part: cellOf('part', at)?.toLowerCase() ?? 'pattern',
    })),
  }
  const read = readDraft(document)
  if (read.ok) return { ok: true, draft: read.draft }
  return { ok: false, problems: read.problems.map((problem) => placed(problem, lines, row)) }
}

/** What the document's reader found, in the cell that it came from. */
function placed(
  { path, message }: { path: string; message: string },
  lines: Heads['lines'],
  row: number,
): TableProblem {
  const hole = /^tablets\[(\d+)\]\.holes\[(\d)\]/.exec(path)
  const line = hole && lines.get(HOLE_LABELS[Number(hole[2])]!)
  if (line)
    return {
      row: line.row,
      column: Number(hole[1]) + 2,
      message: `${message} A row “colour” names it: key, name, # and six digits.`,
    }
  return { row, message: path === '' ? message : `${path}: ${message}` }
}

/**
 * A draft as a table of turns that `readTurnsTable` takes back whole.
 * @returns rows of cells, labels first
 * @throws RangeError when its picks cannot be read
 * @example writeTurnsTable(draft).at(-1) // ['72', 'F', 'F', 'B', …]
 */
export function writeTurnsTable(draft: Draft): string[][] {
  const { tablets, picks, turns } = turningOf(draft)
  const line = (label: string, cellOf: (tablet: Tablet) => string) => [label, ...draft.tablets.map(cellOf)]
  return [
    ['title', draft.title],
    ...Object.entries(draft.colours).map(([key, { name, hex }]) => ['colour', key, name, hex]),
    ['weft', draft.weft],
    ['pick', ...draft.tablets.map((_, at) => String(at + 1))],
    line('threading', ({ threading }) => threading),
    ...HOLES.map((hole, at) => line(hole, ({ holes }) => holes[at] ?? '.')),
    line('start', ({ start }) => start),
    line('part', ({ part }) => part),
    ...Array.from({ length: picks }, (_, pick) => [
      String(pick + 1),
      ...Array.from(turns.subarray(pick * tablets, (pick + 1) * tablets), (turn) => TURN_WORDS.get(turn)!),
    ]),
  ]
}
