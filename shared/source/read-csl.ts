import { isCslDate, isCslNames, isCslText, isCslType, type CslDate, type CslItem, type CslName } from './csl.ts'

export interface ReadCsl {
  readonly item: CslItem
  /** Keys that are no CSL, or hold what CSL does not allow there. */
  readonly lost: readonly string[]
}

/** Longest text of one variable, in characters: an abstract. And most names in one. */
const LONGEST = 20_000
const MOST_NAMES = 200

/**
 * An item of CSL-JSON, taken over key by key: nothing that is not known is looked at, so neither depth nor the names of
 * keys can do harm. Rich text loses its marks, which only the engine of the styles would understand.
 * @param given whatever came
 * @param id by which it is called where it has none of its own
 * @returns the sentence that says why it is none
 */
export function readCslItem(given: unknown, id: string): ReadCsl | string {
  if (typeof given !== 'object' || given === null || Array.isArray(given)) return 'This is no object.'
  const lost: string[] = []
  const taken: [string, unknown][] = []
  let type: CslItem['type'] = 'document'
  let own = id
  for (const [key, value] of Object.entries(given)) {
    if (key === 'type' && isCslType(value)) type = value
    else if (key === 'id' && isPlain(value)) own = clean(value) || id
    else if (key === 'citation-key' && isPlain(value)) taken.push([key, clean(value)])
    else if (key === 'custom') {
      const kind = (value as { kind?: unknown } | null)?.kind
      if (typeof kind === 'string') taken.push([key, { kind: kind.slice(0, 40) }])
      else lost.push(key)
    } else if (isCslText(key) && isPlain(value)) {
      const text = clean(value, key)
      if (text.length > LONGEST) lost.push(`${key} (longer than ${LONGEST} characters)`)
      else if (text !== '') taken.push([key, text])
      if (typeof value === 'string' && MARKS.test(value)) lost.push(`italics and the like in ${key}`)
    } else if (isCslNames(key) && Array.isArray(value)) {
      const names = value.slice(0, MOST_NAMES).map(readName)
      const known = names.filter((name) => name !== undefined)
      if (known.length < value.length) lost.push(`some names in ${key}`)
      if (known.length > 0) taken.push([key, known])
    } else if (isCslDate(key)) {
      const date = readDate(value)
      if (date) taken.push([key, date])
      else lost.push(key)
    } else lost.push(key.slice(0, 60))
  }
  return { item: { ...Object.fromEntries(taken), id: own, type } as CslItem, lost }
}

const isPlain = (value: unknown): value is string | number =>
  typeof value === 'string' || (typeof value === 'number' && Number.isFinite(value))

const MARKS = /<\/?(?:i|b|sup|sub|sc|span(?:\s[^<>]{0,80})?)>/i
const ALL_MARKS = new RegExp(MARKS.source, 'gi')

function clean(value: string | number, key?: string): string {
  const text = String(value).normalize('NFC')
  const lines =
    key === 'note' || key === 'abstract' || key === 'annote'
      ? /[\u0000-\u0008\u000b-\u001f\u007f]/g
      : /\p{Cc}+|[\u2028\u2029]/gu
  return text
    .replace(ALL_MARKS, '')
    .replace(lines, key === 'note' ? '' : ' ')
    .trim()
}

function readName(given: unknown): CslName | undefined {
  if (typeof given === 'string') return given.trim() === '' ? undefined : { literal: clean(given) }
  if (typeof given !== 'object' || given === null) return undefined
  const part = (key: string): string => {
    const value = Object.hasOwn(given, key) ? (given as Record<string, unknown>)[key] : undefined
    return isPlain(value) ? clean(value).slice(0, 300) : ''
  }
  const literal = part('literal')
  if (literal !== '') return { literal }
  const family = [part('non-dropping-particle'), part('family')].filter(Boolean).join(' ')
  const personal = [part('given'), part('dropping-particle')].filter(Boolean).join(' ')
  if (family === '' || personal === '') return family + personal === '' ? undefined : { literal: family || personal }
  const suffix = part('suffix')
  return { family, given: personal, ...(suffix === '' ? {} : { suffix }) }
}

function readDate(given: unknown): CslDate | undefined {
  if (isPlain(given)) return ofWords(clean(given))
  if (typeof given !== 'object' || given === null) return undefined
  const { 'date-parts': parts, circa, literal, raw } = given as Record<string, unknown>
  const words = [literal, raw].find((text) => isPlain(text) && clean(text) !== '')
  if (!Array.isArray(parts)) return isPlain(words) ? ofWords(clean(words)) : undefined
  const read = parts.slice(0, 2).map(readParts)
  if (read.length === 0 || read.some((part) => part === undefined))
    return isPlain(words) ? ofWords(clean(words)) : undefined
  return { 'date-parts': read as number[][], ...(circa ? { circa: true } : {}) }
}

/** `1987/03/14`, as RIS has it, and EDTF's `1987-03~`; all else is words. */
function ofWords(text: string): CslDate {
  const found = /^(\d{4})(?:[-/](\d{1,2})(?:[-/](\d{1,2}))?)?[-/]*([~?%])?$/.exec(text)
  const parts = found && readParts(found.slice(1, 4).filter((part) => part !== undefined))
  if (!found || !parts) return { literal: text.slice(0, 300) }
  return { 'date-parts': [parts], ...(found[4] ? { circa: true } : {}) }
}

function readParts(given: unknown): number[] | undefined {
  if (!Array.isArray(given) || given.length === 0 || given.length > 3) return undefined
  const numbers = given.map((part) => (isPlain(part) && String(part).trim() !== '' ? Number(part) : Number.NaN))
  const [year = Number.NaN, month, day] = numbers
  const isYear = Number.isInteger(year) && year !== 0 && Math.abs(year) < 100_000
  const within = (part: number | undefined, most: number) =>
    part === undefined || (Number.isInteger(part) && part >= 1 && part <= most)
  return isYear && within(month, 12) && within(day, 31) ? numbers : undefined
}
