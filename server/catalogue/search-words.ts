/**
 * What people type, as an expression for FTS5. Every word must be there; the last one may be unfinished; words between
 * quotation marks must follow each other. Each word is quoted, so that AND, NEAR, *, ^, : and brackets are only text.
 * @returns undefined when there is no letter and no digit to look for
 * @example toMatch('madder bor') // '"madder" "bor"*'
 * @example toMatch('"stepped fret" NOT') // '"stepped fret" "NOT"*'
 */
export function toMatch(typed: string): string | undefined {
  const parts = [...typed.matchAll(/["“”„]([^"“”„]*)(["“”„]|$)|[^\s"“”„]+/g)]
    .map(([whole, phrase, closed]) => ({ text: phrase ?? whole, finished: phrase !== undefined && closed !== '' }))
    .map((part) => ({ ...part, text: part.text.replace(/\0/g, ' ').trim() }))
    .filter(({ text }) => /[\p{L}\p{N}]/u.test(text))
  if (parts.length === 0) return undefined
  const words = parts
    .slice(0, MOST_WORDS)
    .map(({ text, finished }, index) => `"${text}"${index === parts.length - 1 && !finished ? '*' : ''}`)
  return [...new Set(words)].join(' ')
}

/** The words of what was typed, each on its own, for offering them where all together are found nowhere. */
export function toWords(typed: string): string[] {
  const words = typed.split(/[\s"“”„]+/).filter((word) => /[\p{L}\p{N}]/u.test(word))
  return [...new Set(words)].slice(0, 6)
}

/** More than anybody remembers of a text; FTS5 itself stops at a few hundred. */
const MOST_WORDS = 30

/** Marks of a hit in what FTS5 returns: private-use characters, which no tokeniser and no page needs. */
export const HIT_START = '\ue000'
export const HIT_END = '\ue001'

export interface Segment {
  readonly text: string
  readonly hit: boolean
}

/** A marked text as pieces for a template, which escapes each of them. A mark that stands in the text itself is dropped. */
export function toSegments(marked: string): Segment[] {
  const segments: Segment[] = []
  let hit = false
  for (const part of marked.split(/([\ue000\ue001])/)) {
    if (part === HIT_START) hit = true
    else if (part === HIT_END) hit = false
    else if (part !== '') segments.push({ text: part, hit })
  }
  return segments
}
