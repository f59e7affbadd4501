/** What is wrong in one line, and at which character, counted from 1. */
export interface LineProblem {
  readonly column: number
  readonly message: string
}

const TURNS_ARE = 'a turn is F, B, I, (2F) or (2B)'
/** Counts above this are read as this: no line needs more, and sums must stay exact. */
const COUNT_CEILING = 1_000_000

/**
 * Reads one pick of a turning into its place in a larger array. Written as a plain scan, because a long draft has
 * millions of runs.
 * @param line `2F 2B 2F`; lower case, spaces, commas and `2F2B2F` are taken, anything else is a problem
 * @param tablets how many tablets the line must turn
 * @param into receives one turn a tablet: 1 forward, -1 back, 0 idle, 2 and -2 half turns
 * @param offset where in `into` tablet 1 of this pick stands
 * @returns what is wrong, in the order of the line; empty when the line is good
 * @example readPickLine('3F 2X', 6, into, 0) // [{ column: 4, message: '“2X” cannot be read; a turn is F, B, …' }]
 */
export function readPickLine(line: string, tablets: number, into: Int8Array, offset: number): LineProblem[] {
  const problems: LineProblem[] = []
  let found = 0
  let overAt = -1
  let at = skipGaps(line, 0)
  while (at < line.length) {
    const began = at
    let count = 0
    while (isDigit(line.charCodeAt(at))) {
      count = Math.min(COUNT_CEILING, count * 10 + line.charCodeAt(at) - 48)
      at++
    }
    const turnAt = skipSpaces(line, at)
    const end = endOfTurn(line, turnAt)
    if (at === began || count === 0 || end < 0) {
      at = skipToGap(line, Math.max(at, end))
      problems.push({ column: began + 1, message: whyUnread(line, began, at, end >= 0) })
    } else {
      const turn = turnBetween(line, turnAt, end)
      if (found + count > tablets && overAt < 0) overAt = began
      const last = Math.min(found + count, tablets)
      into.fill(turn, offset + Math.min(found, tablets), offset + last)
      found += count
      at = end
    }
    at = skipGaps(line, at)
  }
  // A sum with an unreadable run in it would only say what is already said.
  if (problems.length === 0 && found !== tablets) {
    const column = (overAt < 0 ? line.trimEnd().length : overAt) + 1
    const many =
      found >= COUNT_CEILING ? `${COUNT_CEILING} or more tablets` : found === 1 ? '1 tablet' : `${found} tablets`
    problems.push({ column, message: `${many} found, ${tablets} needed.` })
  }
  return problems
}

function isDigit(code: number): boolean {
  return code >= 48 && code <= 57
}

/** Space, tab, or the no-break space that comes with text pasted from a page. */
function isSpace(code: number): boolean {
  return code === 32 || code === 9 || code === 0xa0
}

function skipSpaces(line: string, at: number): number {
  while (isSpace(line.charCodeAt(at))) at++
  return at
}

function skipGaps(line: string, at: number): number {
  while (isSpace(line.charCodeAt(at)) || line[at] === ',') at++
  return at
}

function skipToGap(line: string, at: number): number {
  while (at < line.length && !isSpace(line.charCodeAt(at)) && line[at] !== ',') at++
  return at
}

/** The place after the turn that begins at `at`, or -1 when none does. */
function endOfTurn(line: string, at: number): number {
  if (isTurnLetter(line[at], 'FBI')) return at + 1
  if (line[at] !== '(') return -1
  const two = skipSpaces(line, at + 1)
  if (line[two] !== '2') return -1
  const letter = skipSpaces(line, two + 1)
  if (!isTurnLetter(line[letter], 'FB')) return -1
  const close = skipSpaces(line, letter + 1)
  return line[close] === ')' ? close + 1 : -1
}

function isTurnLetter(letter: string | undefined, among: string): boolean {
  return letter !== undefined && among.includes(letter.toUpperCase())
}

function turnBetween(line: string, at: number, end: number): number {
  if (line[at] === '(') return /f/i.test(line.slice(at, end)) ? 2 : -2
  const letter = line[at]!.toUpperCase()
  return letter === 'F' ? 1 : letter === 'B' ? -1 : 0
}

function whyUnread(line: string, began: number, end: number, turnIsGood: boolean): string {
  const word = line.slice(began, Math.min(end, began + 12))
  if (turnIsGood && !isDigit(line.charCodeAt(began)))
    return `“${word}” needs a number of tablets before it, as in 1${word}.`
  if (turnIsGood) return `“${word}” turns no tablet.`
  if (/^\d+$/.test(word)) return `“${word}” has no turn after it; ${TURNS_ARE}.`
  return `“${word}” cannot be read; ${TURNS_ARE}.`
}
