import { COLOUR_KEY, COLOUR_KEY_RULE } from '../document-shape.ts'
import { type Colour, type ColourKey, MOST_PICKS, MOST_TABLETS } from '../draft.ts'
import { countEntries, type EntryLine, listEntryLines, type TextProblem } from '../entry-line.ts'
import { MOST_PROBLEMS } from '../turning.ts'
import type { ObservedFace, ObservedSlant } from './observed.ts'

export type ReadObserved =
  | { readonly ok: true; readonly observed: ObservedFace }
  | { readonly ok: false; readonly problems: readonly TextProblem[] }

interface Row {
  readonly cells: (ColourKey | null)[]
  readonly slants: (ObservedSlant | null)[]
}

/**
 * Reads an observed face as typed: one line a pick, pick 1 first, one word a tablet with spaces between. A word is a
 * colour key or `.` where the colour is not legible; after it, `/` or `\` where the slant is: `m/`, `./`. A line may
 * lead with its pick number, `12:`, which is checked, or with a range, `1-4:`, and then stands for those picks; from
 * `#` on it is a comment. Upper and lower case are not told apart.
 * @param colours when given, every key must be one of these
 * @returns the face, with slants only where any is legible; or the problems in order of the text, 50 at most
 * @example readObserved('m w m/\n. w .\\').observed // cells [['m','w','m'], [null,'w',null]], slants [[null,null,'/'], …
 * @example readObserved('m w\nm') // problem: line 2, column 2, 'Pick 2: 1 tablet found, 2 needed.'
 * Source: our own text form.
 */
export function readObserved(text: string, colours?: Readonly<Record<ColourKey, Colour>>): ReadObserved {
  const rows: Row[] = []
  const problems: TextProblem[] = []
  let width: number | undefined
  for (const entry of listEntryLines(text)) {
    const { line, column } = entry
    const { count, problem } = countEntries(entry, 'pick', rows.length + 1)
    if (problem !== undefined) problems.push({ line, column: entry.numbered!.column, message: problem })
    if (rows.length + count > MOST_PICKS) {
      const message = `This line brings the face to ${rows.length + count} picks; at most ${MOST_PICKS} are read.`
      problems.push({ line, column, message })
      break
    }
    const row = readRow(entry, rows.length + 1, colours, problems)
    width ??= row.cells.length
    if (row.cells.length !== width || width > MOST_TABLETS) {
      const many = row.cells.length === 1 ? '1 tablet' : `${row.cells.length} tablets`
      const needed = width > MOST_TABLETS ? `at most ${MOST_TABLETS} are read` : `${width} needed`
      const message = `Pick ${rows.length + 1}: ${many} found, ${needed}.`
      problems.push({ line, column: column + entry.body.length, message })
    }
    for (let time = 0; time < count; time++) rows.push(row)
    if (problems.length >= MOST_PROBLEMS) break
  }
  if (rows.length === 0 && problems.length === 0) {
    problems.push({ line: 1, column: 1, message: 'No pick found; a line is one word a tablet, as in “m w . m/”.' })
  }
  if (problems.length > 0) return { ok: false, problems: problems.slice(0, MOST_PROBLEMS) }
  const cells = rows.map((row) => row.cells)
  const anySlant = rows.some(({ slants }) => slants.some((slant) => slant !== null))
  return { ok: true, observed: anySlant ? { cells, slants: rows.map((row) => row.slants) } : { cells } }
}

function readRow(
  { line, column, body }: EntryLine,
  pick: number,
  colours: Readonly<Record<ColourKey, Colour>> | undefined,
  problems: TextProblem[],
): Row {
  const row: Row = { cells: [], slants: [] }
  for (const match of body.matchAll(/\S+/g)) {
    const word = match[0].toLowerCase()
    const slant = word.endsWith('/') ? '/' : word.endsWith('\\') ? '\\' : null
    const key = slant === null ? word : word.slice(0, -1)
    const why = key === '.' ? undefined : whyNoKey(key, colours)
    if (why !== undefined && problems.length < MOST_PROBLEMS) {
      problems.push({ line, column: column + match.index, message: `Pick ${pick}: “${word.slice(0, 12)}”: ${why}` })
    }
    row.cells.push(key === '.' || why !== undefined ? null : key)
    row.slants.push(slant)
  }
  return row
}

function whyNoKey(key: string, colours: Readonly<Record<ColourKey, Colour>> | undefined): string | undefined {
  if (key === '') return 'before a slant stands a colour key, or “.” where the colour is not legible.'
  if (!COLOUR_KEY.test(key)) return `${COLOUR_KEY_RULE} “.” is not legible; “/” or “\\” after it is the slant.`
  if (colours !== undefined && !Object.hasOwn(colours, key)) return 'no colour has this key.'
  return undefined
}

/**
 * Writes an observed face as text that `readObserved` takes back, one line a pick, words lined up in columns.
 * @returns lines joined by line feeds, without a line feed at the end
 * @example writeObserved({ cells: [['m', null]], slants: [['/', null]] }) // 'm/ .'
 */
export function writeObserved({ cells, slants }: ObservedFace): string {
  const words = cells.map((row, pick) => row.map((key, tablet) => (key ?? '.') + (slants?.[pick]?.[tablet] ?? '')))
  const widths = (words[0] ?? []).map((_, tablet) =>
    words.reduce((most, row) => Math.max(most, row[tablet]!.length), 0),
  )
  return words
    .map((row) =>
      row
        .map((word, at) => word.padEnd(widths[at]!))
        .join(' ')
        .trimEnd(),
    )
    .join('\n')
}
