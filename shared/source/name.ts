import type { CslName } from './csl.ts'

/** Whoever stands in a line of names, and which of them only edited. */
export interface NamesRead {
  readonly authors: readonly CslName[]
  readonly editors: readonly CslName[]
}

const EDITOR = /\s*\((?:eds?\.?|editors?|hrsg\.?|hg\.?)\)\s*$/i

/**
 * A line of names as a maker types it: `Oss, Rolf; Visser, A. (ed.); Museum of the Fen`. A comma parts family and given
 * name (a second one a suffix), a semicolon one from the next. What has no comma, or stands in braces, is an institution
 * or a person known by one name. `(ed.)` makes an editor of the one it stands behind, `(eds)` of all of them.
 * @example readNames('Oss, Rolf; {Fen, Marsh and Moor Trust}').authors // [{family: 'Oss', given: 'Rolf'}, {literal: 'Fen, …'}]
 */
export function readNames(line: string): NamesRead {
  const parts = splitOutsideBraces(line)
    .map((part) => part.trim())
    .filter((part) => part !== '')
  const allEdited = parts.length > 1 && /\((?:eds\.?|editors)\)\s*$/i.test(parts[parts.length - 1] ?? '')
  const authors: CslName[] = []
  const editors: CslName[] = []
  for (const part of parts) {
    const name = readName(part.replace(EDITOR, ''))
    if (name) (allEdited || EDITOR.test(part) ? editors : authors).push(name)
  }
  return { authors, editors }
}

function readName(text: string): CslName | undefined {
  const trimmed = text.trim()
  if (trimmed === '') return undefined
  const braced = /^\{(.*)\}$/.exec(trimmed)
  if (braced) return braced[1]?.trim() ? { literal: braced[1].trim() } : undefined
  const [family = '', given = '', ...suffix] = trimmed.split(',').map((word) => word.trim())
  if (family === '') return given === '' ? undefined : { literal: given }
  if (given === '') return { literal: family }
  return { family, given, ...(suffix.length > 0 && suffix.join(', ') !== '' ? { suffix: suffix.join(', ') } : {}) }
}

function splitOutsideBraces(line: string): string[] {
  const parts = ['']
  let depth = 0
  for (const letter of line) {
    if (letter === '{') depth += 1
    else if (letter === '}') depth = Math.max(0, depth - 1)
    if (letter === ';' && depth === 0) parts.push('')
    else parts[parts.length - 1] += letter
  }
  return parts
}

/** Names as the line that `readNames` reads; a literal that would be read otherwise stands in braces. */
export function writeNames(names: readonly CslName[]): string {
  return names.map(writeName).filter(Boolean).join('; ')
}

function writeName({ family, given, suffix, literal }: CslName): string {
  if (family && given) return [family, given, suffix].filter(Boolean).join(', ').replace(/;/g, ',')
  const whole = literal ?? family ?? given ?? ''
  return /[;,]|\(eds?\.?\)$/i.test(whole) ? `{${whole.replace(/[{}]/g, '')}}` : whole
}
