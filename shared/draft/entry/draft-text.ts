import type { Draft } from '../draft.ts'
import {
  type DraftEntry,
  type EntryField,
  readDraftEntry,
  type ReadDraftEntry,
  writeDraftEntry,
} from './draft-entry.ts'

export interface DraftTextProblem {
  /** Line and character of the whole text, from 1. */
  readonly line: number
  readonly column: number
  readonly message: string
}

export type ReadDraftText =
  { readonly ok: true; readonly draft: Draft } | { readonly ok: false; readonly problems: readonly DraftTextProblem[] }

const SECTIONS = ['title', 'weft', 'colours', 'threading', 'turning'] as const
type Section = (typeof SECTIONS)[number]
const HEAD = /^\s*(title|weft|colours|threading|turning)\s*:[ \t]*(.*)$/i

/**
 * Whether a text is meant as the text form of a draft: it has the heads of threading and turning.
 * @example looksLikeDraftText('threading:\nS m m w w\nturning:\n1F') // true
 */
export const looksLikeDraftText = (text: string): boolean =>
  /^\s*threading\s*:/im.test(text) && /^\s*turning\s*:/im.test(text)

/**
 * Reads a draft from one text: `title: …` and `weft: …` on a line each, then the heads `colours:`, `threading:` and
 * `turning:`, each with its lines as in the form of a draft beneath.
 * @returns the draft; or the problems, by line and character of the whole text
 * @example readDraftText('title: Hem\nweft: m\ncolours:\nm madder\nthreading:\nS m m m m\nturning:\n1F x4')
 * Source: our own text form.
 */
export function readDraftText(text: string): ReadDraftText {
  const lines = text
    .replace(/^\ufeff/, '')
    .replace(/\r\n?/g, '\n')
    .split('\n')
  const entry: Record<Section, string> = { title: '', weft: '', colours: '', threading: '', turning: '' }
  /** For each section, the line of the text on which its first line stands, and by how many characters that is moved. */
  const starts = new Map<Section, { line: number; indent: number }>()
  const problems: DraftTextProblem[] = []
  let open: Section | undefined
  lines.forEach((raw, at) => {
    const head = HEAD.exec(raw)
    if (head) {
      const name = head[1]!.toLowerCase() as Section
      if (starts.has(name)) problems.push({ line: at + 1, column: 1, message: `“${name}:” stands above already.` })
      starts.set(name, { line: at + 1, indent: raw.length - head[2]!.length })
      entry[name] = head[2]!
      open = name
    } else if (open !== undefined && open !== 'title' && open !== 'weft') entry[open] += `\n${raw}`
    else if (raw.trim() !== '' && !raw.trim().startsWith('#')) {
      problems.push({ line: at + 1, column: 1, message: `Before this stands one of: ${SECTIONS.join(':, ')}:.` })
    }
  })
  for (const name of ['colours', 'threading', 'turning'] as const) {
    if (!starts.has(name))
      problems.push({ line: lines.length, column: 1, message: `“${name}:” and its lines are missing.` })
  }
  if (problems.length > 0) return { ok: false, problems: problems.slice(0, 50) }
  const read = readDraftEntry({ ...entry, weft: entry.weft || firstKey(entry.colours) })
  if (read.ok) return { ok: true, draft: read.draft }
  return { ok: false, problems: placedProblems(read, starts) }
}

/** Without a word about the weft it is the first colour. */
const firstKey = (colours: string) => /\S+/.exec(colours)?.[0] ?? ''

function placedProblems(
  read: ReadDraftEntry & { ok: false },
  starts: ReadonlyMap<Section, { line: number; indent: number }>,
): DraftTextProblem[] {
  return read.problems.map(({ field, line, column, message }) => {
    const start = starts.get(field satisfies EntryField) ?? { line: 1, indent: 0 }
    // The form's first line is what stands behind the colon of the head.
    return { line: start.line + line - 1, column: line === 1 ? start.indent + column : column, message }
  })
}

/**
 * A draft as one text that `readDraftText` takes back.
 * @throws RangeError when its picks cannot be read
 * @example writeDraftText(draft).startsWith('title: Stepped fret') // true
 */
export function writeDraftText(draft: Draft): string {
  const { title, weft, colours, threading, turning }: DraftEntry = writeDraftEntry(draft)
  return `title: ${title}\nweft: ${weft}\n\ncolours:\n${colours}\n\nthreading:\n${threading}\n\nturning:\n${turning}\n`
}
