import { type Colour, HOLES, type Hole, MOST_TABLETS, type Tablet } from './draft.ts'
import { countEntries, listEntryLines, type TextProblem } from './entry-line.ts'
import { MOST_PROBLEMS } from './turning.ts'

export type ReadThreading =
  | { readonly ok: true; readonly tablets: readonly Tablet[] }
  | { readonly ok: false; readonly problems: readonly TextProblem[] }

interface Word {
  readonly text: string
  readonly column: number
}

const A_LINE_IS = 'a line is S or Z and the colours of holes A, B, C, D, as in “S m m w w”'

/**
 * Reads a typed threading, one line a tablet from tablet 1 on: `S m m w w`, with `-` for an empty hole, and after the
 * holes, when wanted, `from C` (the hole at top-near before the first pick; A when not said) and `border`. A line may
 * lead with its tablet number, `3:`, which is checked, or with a range, `3-8:`, and then stands for those tablets.
 * `mirror 1-12` stands for tablets 12 to 1 with S and Z changed over, `mirror` alone for all tablets so far.
 * From `#` on a line is a comment. Upper and lower case are not told apart.
 * @param colours the draft's colours by key; a hole must name one of them
 * @returns the tablets, or the problems in the order of the text, 50 at most
 * @example readThreading('1-2: S m m m m border\nZ m - w w from C', colours) // three tablets
 * @example readThreading('S m m x w', colours) // problem: line 1, column 7, no colour has the key “x”
 * Source: our own text form.
 */
export function readThreading(text: string, colours: Readonly<Record<string, Colour>>): ReadThreading {
  const tablets: Tablet[] = []
  const problems: TextProblem[] = []
  for (const entry of listEntryLines(text)) {
    const { line, column } = entry
    const complain = (at: number, message: string) => problems.push({ line, column: at, message })
    const words = listWords(entry.body, column)
    const before = problems.length
    const isMirror = words[0]?.text === 'mirror'
    const read = isMirror
      ? readMirror(words, tablets, entry.body, complain)
      : readTablet(words, colours, column + entry.body.length, complain)
    const { count, problem } = countEntries(entry, 'tablet', tablets.length + 1, isMirror ? read.length : undefined)
    if (problem !== undefined && (!isMirror || problems.length === before)) complain(entry.numbered!.column, problem)
    const more = isMirror ? read.length : count
    if (tablets.length + more > MOST_TABLETS) {
      complain(column, `This line brings the draft to ${tablets.length + more} tablets; at most ${MOST_TABLETS} fit.`)
      break
    }
    for (let at = 0; at < more; at++) tablets.push(isMirror ? read[at]! : (read[0] ?? EMPTY_TABLET))
    if (problems.length >= MOST_PROBLEMS) break
  }
  if (tablets.length === 0 && problems.length === 0) {
    problems.push({ line: 1, column: 1, message: `No tablet found; ${A_LINE_IS}.` })
  }
  if (problems.length > 0) return { ok: false, problems: problems.slice(0, MOST_PROBLEMS) }
  return { ok: true, tablets }
}

/** Stands in for a line that could not be read, so that the numbers of the lines after it still fit. */
const EMPTY_TABLET: Tablet = { threading: 'S', holes: [null, null, null, null], start: 'A', part: 'pattern' }

type Complain = (column: number, message: string) => void

function listWords(body: string, column: number): Word[] {
  return [...body.matchAll(/[^\s,]+/g)].map((match) => ({
    text: match[0].toLowerCase(),
    column: column + match.index,
  }))
}

function quoted(word: Word): string {
  return `“${word.text.slice(0, 12)}”`
}

function readTablet(
  words: readonly Word[],
  colours: Readonly<Record<string, Colour>>,
  endColumn: number,
  complain: Complain,
): Tablet[] {
  const [turn, ...rest] = words
  if (turn === undefined || (turn.text !== 's' && turn.text !== 'z')) {
    complain(turn?.column ?? endColumn, `${turn ? quoted(turn) : 'An empty line'} is not S or Z; ${A_LINE_IS}.`)
    return []
  }
  const holes = HOLES.map((hole, at) => {
    const word = rest[at]
    if (word === undefined) return null
    if (word.text === '-') return null
    if (!Object.hasOwn(colours, word.text)) {
      complain(word.column, `Hole ${hole}: no colour has the key ${quoted(word)}; “-” is an empty hole.`)
    }
    return word.text
  })
  if (rest.length < 4) complain(endColumn, `${rest.length} of 4 holes found; ${A_LINE_IS}.`)
  let start: Hole = 'A'
  let part: Tablet['part'] = 'pattern'
  for (let at = 4; at < rest.length; at++) {
    const word = rest[at]!
    if (word.text === 'border' || word.text === 'pattern') {
      part = word.text
    } else if (word.text === 'from') {
      const letter = rest[++at]
      const hole = HOLES.find((one) => one.toLowerCase() === letter?.text)
      if (hole === undefined)
        complain((letter ?? word).column, 'After “from” stands the hole at top-near: A, B, C or D.')
      else start = hole
    } else {
      complain(word.column, `${quoted(word)} cannot be read; after the holes may stand “from C” and “border”.`)
    }
  }
  const [a, b, c, d] = holes
  return [{ threading: turn.text === 's' ? 'S' : 'Z', holes: [a!, b!, c!, d!], start, part }]
}

function readMirror(words: readonly Word[], tablets: readonly Tablet[], body: string, complain: Complain): Tablet[] {
  const range = /^mirror\s*(?:(\d{1,6})\s*[-–]\s*(\d{1,6}))?$/i.exec(body)
  const column = words[0]!.column
  if (range === null) {
    complain(column, 'A mirror is written “mirror” for all tablets so far, or “mirror 1-12”.')
    return []
  }
  const from = range[1] === undefined ? 1 : Number(range[1])
  const to = range[2] === undefined ? tablets.length : Number(range[2])
  if (from < 1 || to < from || to > tablets.length) {
    complain(column, `Only tablets that stand before this line can be mirrored, here 1 to ${tablets.length}.`)
    return []
  }
  return mirrorTablets(tablets.slice(from - 1, to))
}

/**
 * The tablets as a mirror standing beside the band shows them: in the opposite order, S and Z changed over.
 * @example mirrorTablets([tablet threaded S, tablet threaded Z]) // the second as S, then the first as Z
 */
export function mirrorTablets(tablets: readonly Tablet[]): Tablet[] {
  return tablets.toReversed().map((tablet) => ({ ...tablet, threading: tablet.threading === 'S' ? 'Z' : 'S' }))
}
