/** What is wrong in typed text. Line and column are counted from 1. */
export interface TextProblem {
  readonly line: number
  readonly column: number
  readonly message: string
}

/** One line of typed text with its leading number and its comment taken off. */
export interface EntryLine {
  /** Counted from 1. */
  readonly line: number
  /** What stands between the leading number and the comment, without the space around it; may be empty. */
  readonly body: string
  /** The character at which `body` begins, counted from 1. */
  readonly column: number
  /** The leading number: `12:` is from 12 to 12, `1-4:` from 1 to 4. */
  readonly numbered?: { readonly from: number; readonly to: number; readonly column: number }
}

/**
 * Cuts typed text into lines that say something. A line may lead with a number or a range and a colon (`12:`, `1-4:`);
 * from `#` on it is a comment; lines that are then empty are left out. CRLF line ends are taken.
 * @example listEntryLines('1-2: 6F # start\n\n') // [{ line: 1, body: '6F', column: 6, numbered: { from: 1, to: 2, column: 1 } }]
 * Source: our own shorthand for typing.
 */
export function listEntryLines(text: string): EntryLine[] {
  const entries: EntryLine[] = []
  text.split('\n').forEach((raw, at) => {
    const said = raw.split('#', 1)[0]!.trimEnd()
    if (said.trim() === '') return
    const lead = /^\s*(\d{1,6})\s*(?:[-–]\s*(\d{1,6})\s*)?:\s*/.exec(said)
    const indent = said.length - said.trimStart().length
    if (lead === null) {
      entries.push({ line: at + 1, body: said.slice(indent), column: indent + 1 })
      return
    }
    const from = Number(lead[1])
    const to = lead[2] === undefined ? from : Number(lead[2])
    const numbered = { from, to, column: indent + 1 }
    entries.push({ line: at + 1, body: said.slice(lead[0].length), column: lead[0].length + 1, numbered })
  })
  return entries
}

/**
 * What is wrong with the leading number of a line, if anything.
 * @param noun what is counted: 'pick' or 'tablet'
 * @param next the number that this line must begin with
 * @param stated how many the line says it stands for without its number, if it says so
 * @returns how many picks or tablets the line stands for, and a problem when its number does not fit
 * @example countEntries(line, 'pick', 3) // for `5: 6F`: { count: 1, problem: 'This line is numbered 5, but it is pick 3.' }
 */
export function countEntries(
  { numbered }: EntryLine,
  noun: 'pick' | 'tablet',
  next: number,
  stated?: number,
): { count: number; problem?: string } {
  if (numbered === undefined) return { count: stated ?? 1 }
  const { from, to } = numbered
  const ranged = to - from + 1
  if (ranged < 1) return { count: stated ?? 1, problem: `The range ${from}-${to} runs backwards.` }
  const count = stated ?? ranged
  if (from !== next) return { count, problem: `This line is numbered ${from}, but it is ${noun} ${next}.` }
  if (to !== from && stated !== undefined && stated !== ranged) {
    const problem = `${from}-${to} is ${ranged} ${noun}s, but the line stands for ${stated}.`
    return { count, problem }
  }
  return { count }
}
