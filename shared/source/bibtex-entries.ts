/** One entry of a BibTeX or BibLaTeX file, as it stands there. */
export interface BibtexEntry {
  /** Line on which it begins, from 1. */
  readonly line: number
  readonly key: string
  readonly text: string
  /** Names of its fields, small letters. */
  readonly fields: readonly string[]
}

export interface BibtexFile {
  /** The `@string` lines, which an entry may need. */
  readonly strings: readonly string[]
  readonly entries: readonly BibtexEntry[]
  readonly problems: readonly { readonly line: number; readonly message: string }[]
}

/** Deeper braces than these are nobody's titles. */
const MOST_DEPTH = 40

/**
 * Parts a file into its entries, so that a broken one does not take the others with it. An entry that is not closed ends
 * where a line begins with the next one. Braces count as BibTeX counts them: also behind a backslash.
 */
export function splitBibtex(text: string): BibtexFile {
  const strings: string[] = []
  const entries: BibtexEntry[] = []
  const problems: { line: number; message: string }[] = []
  const begin = /@[ \t]*([A-Za-z]+)\s*([{(])/g
  const lines = lineCounter(text)
  for (let found = begin.exec(text); found; found = begin.exec(text)) {
    const line = lines(found.index)
    const type = (found[1] ?? '').toLowerCase()
    const body = readBody(text, begin.lastIndex, found[2] === '(' ? ')' : '}')
    begin.lastIndex = body.next
    if (type === 'comment' || type === 'preamble') continue
    if (body.problem !== '') {
      problems.push({ line, message: body.problem })
      continue
    }
    const whole = text.slice(found.index, body.next)
    if (type === 'string') strings.push(whole)
    else {
      const key = /^\s*([^,\s{}()=]{1,200})\s*,/.exec(text.slice(found.index + found[0].length, body.next))?.[1] ?? ''
      entries.push({ line, key, text: whole, fields: body.fields })
    }
  }
  return { strings, entries, problems }
}

interface Body {
  /** Where to go on reading. */
  readonly next: number
  readonly fields: readonly string[]
  /** Empty when it is whole. */
  readonly problem: string
}

function readBody(text: string, from: number, close: string): Body {
  const fields: string[] = []
  let depth = 1
  let isQuoted = false
  for (let at = from; at < text.length; at += 1) {
    const letter = text[at]
    if (letter === '{') depth += 1
    else if (letter === '}' && !(close === ')' && depth === 1)) depth -= 1
    else if (letter === '"' && depth === 1) isQuoted = !isQuoted
    else if (letter === ')' && close === ')' && depth === 1 && !isQuoted) depth = 0
    else if (letter === '=' && depth === 1 && !isQuoted) {
      const name = /([A-Za-z][\w+:.-]{0,60})\s*$/.exec(text.slice(Math.max(from, at - 80), at))
      if (name?.[1]) fields.push(name[1].toLowerCase())
    } else if (letter === '\n' && /^@[ \t]*[A-Za-z]+\s*[{(]/.test(text.slice(at + 1, at + 40)))
      return { next: at + 1, fields, problem: 'This entry is not closed: a brace or quotation mark is missing.' }
    if (depth > MOST_DEPTH)
      return { next: nextEntry(text, at), fields, problem: `Its braces are nested more than ${MOST_DEPTH} deep.` }
    if (depth === 0) return { next: at + 1, fields, problem: '' }
  }
  return { next: text.length, fields, problem: 'This entry is not closed: a brace or quotation mark is missing.' }
}

function nextEntry(text: string, from: number): number {
  const next = /\n@/g
  next.lastIndex = from
  return next.exec(text)?.index ?? text.length
}

/** Counts on from the last place that was asked for. */
function lineCounter(text: string): (place: number) => number {
  let line = 1
  let at = 0
  return (place) => {
    for (; at < place; at += 1) if (text[at] === '\n') line += 1
    return line
  }
}
