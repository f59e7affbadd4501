import { type Colour, type ColourKey, HOLES, type Hole, MOST_TABLETS, type Tablet } from '../draft.ts'
import { countEntries, listEntryLines, type TextProblem } from '../entry-line.ts'
import { MOST_PROBLEMS } from '../turning.ts'
import type { KnownTablet } from './request.ts'

export type ReadKnown =
  | { readonly ok: true; readonly tablets: readonly KnownTablet[] }
  | { readonly ok: false; readonly problems: readonly TextProblem[] }

/** A tablet of which nothing is known. */
export const UNKNOWN_TABLET: KnownTablet = { threading: null, holes: null, start: null, part: 'pattern' }

const A_LINE_IS = 'a line is S, Z or “?”, then four holes or “?”, as in “S m m w w” or “Z ?”'

/**
 * Reads what is known of the tablets, one line a tablet as in a threading, with `?` for what is not known: `S m m w w
 * from C border`, `Z ?`, `? m m w w`. Holes that are left out are not known, and neither is a start that is left out.
 * `1-4:` before a line stands for four tablets, `-` is an empty hole, from `#` on it is a comment.
 * @param many how many tablets the observed face has; an empty text means that nothing is known of any of them
 * @param colours the colours that a hole may name
 * @returns as many tablets; or the problems in order of the text, 50 at most
 * @example readKnown('1-2: S m m m m\nZ ?', 3, colours).tablets[2] // threading Z, holes null, start null
 * @example readKnown('S ?', 2, colours) // problem: 1 tablet described, but the observed face has 2.
 * Source: our own text form.
 */
export function readKnown(text: string, many: number, colours: Readonly<Record<ColourKey, Colour>>): ReadKnown {
  const entries = listEntryLines(text)
  if (entries.length === 0) return { ok: true, tablets: Array.from({ length: many }, () => UNKNOWN_TABLET) }
  const tablets: KnownTablet[] = []
  const problems: TextProblem[] = []
  for (const entry of entries) {
    const { line, column } = entry
    const { count, problem } = countEntries(entry, 'tablet', tablets.length + 1)
    if (problem !== undefined) problems.push({ line, column: entry.numbered!.column, message: problem })
    const tablet = readTablet(entry.body, colours, (at, message) =>
      problems.push({ line, column: column + at, message }),
    )
    if (tablets.length + count > MOST_TABLETS || problems.length >= MOST_PROBLEMS) break
    for (let time = 0; time < count; time++) tablets.push(tablet)
  }
  if (problems.length === 0 && tablets.length !== many) {
    const described = tablets.length === 1 ? '1 tablet is described' : `${tablets.length} tablets are described`
    const message = `${described}, but the observed face has ${many}.`
    problems.push({ line: entries.at(-1)!.line, column: 1, message })
  }
  return problems.length > 0 ? { ok: false, problems: problems.slice(0, MOST_PROBLEMS) } : { ok: true, tablets }
}

function readTablet(
  body: string,
  colours: Readonly<Record<ColourKey, Colour>>,
  complain: (at: number, message: string) => void,
): KnownTablet {
  const words = [...body.matchAll(/[^\s,]+/g)].map((match) => ({ text: match[0].toLowerCase(), at: match.index }))
  const first = words.shift()
  if (first === undefined || !['s', 'z', '?'].includes(first.text)) {
    complain(first?.at ?? 0, `${first ? quoted(first.text) : 'An empty line'} is not S, Z or “?”; ${A_LINE_IS}.`)
    return UNKNOWN_TABLET
  }
  const threading = first.text === '?' ? null : first.text === 's' ? 'S' : 'Z'
  const tailAt = words.findIndex(({ text }) => ['from', 'border', 'pattern'].includes(text))
  const holeWords = words.splice(0, tailAt < 0 ? words.length : tailAt)
  const unknown = holeWords.every(({ text }) => text === '?')
  if (!unknown && holeWords.length !== 4) {
    complain(holeWords[0]!.at, `${holeWords.length} of 4 holes found; ${A_LINE_IS}.`)
  }
  for (const { text, at } of unknown ? [] : holeWords) {
    if (text === '?') complain(at, 'Either all four holes are known or none: “?” stands for all of them.')
    else if (text !== '-' && !Object.hasOwn(colours, text)) complain(at, `No colour has the key ${quoted(text)}.`)
  }
  const [a = null, b = null, c = null, d = null] = holeWords.map(({ text }) => (text === '-' ? null : text))
  return { threading, holes: unknown ? null : [a, b, c, d], ...readTail(words, complain) }
}

function readTail(
  words: readonly { text: string; at: number }[],
  complain: (at: number, message: string) => void,
): { start: Hole | null; part: Tablet['part'] } {
  let start: Hole | null = null
  let part: Tablet['part'] = 'pattern'
  for (let next = 0; next < words.length; next++) {
    const { text, at } = words[next]!
    if (text === 'border' || text === 'pattern') part = text
    else if (text === 'from') {
      const letter = words[++next]
      start = HOLES.find((one) => one.toLowerCase() === letter?.text) ?? null
      if (start === null && letter?.text !== '?') {
        complain((letter ?? words[next - 1]!).at, 'After “from” stands the hole at top-near: A, B, C, D or “?”.')
      }
    } else complain(at, `${quoted(text)} cannot be read; after the holes may stand “from C” and “border”.`)
  }
  return { start, part }
}

const quoted = (text: string) => `“${text.slice(0, 12)}”`

/**
 * Writes what is known of tablets as text that `readKnown` takes back, equal neighbours in one line.
 * @example writeKnown([UNKNOWN_TABLET, UNKNOWN_TABLET]) // '1-2: ? ?'
 */
export function writeKnown(tablets: readonly KnownTablet[]): string {
  const words = tablets.map(({ threading, holes, start, part }) =>
    [
      threading ?? '?',
      ...(holes?.map((key) => key ?? '-') ?? ['?']),
      start ? `from ${start}` : '',
      part === 'border' ? part : '',
    ]
      .filter(Boolean)
      .join(' '),
  )
  const lines: string[] = []
  for (let from = 0; from < words.length;) {
    let to = from
    while (words[to + 1] === words[from]) to++
    lines.push(`${from + 1}${to > from ? `-${to + 1}` : ''}: ${words[from]!}`)
    from = to + 1
  }
  return lines.join('\n')
}
