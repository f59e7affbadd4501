import { readNames } from './name.ts'
import type { SourceWords } from './words.ts'

/**
 * What each source is called by in a file: its own key, else the first family name with the year (`oss1987`), each only
 * once. Letters beyond ASCII, and what BibTeX takes for its own, are left out.
 */
export function citeKeys(sources: readonly Pick<SourceWords, 'citeKey' | 'people' | 'title' | 'year'>[]): string[] {
  const taken = new Set<string>()
  return sources.map((source) => {
    const base = plain(source.citeKey) || ownKey(source) || 'source'
    let key = base
    for (let at = 0; taken.has(key.toLowerCase()); at += 1) key = `${base}${suffix(at)}`
    taken.add(key.toLowerCase())
    return key
  })
}

function ownKey({ people, title, year }: Pick<SourceWords, 'people' | 'title' | 'year'>): string {
  const { authors, editors } = readNames(people)
  const [first] = [...authors, ...editors]
  const name = plain((first?.family ?? first?.literal ?? title).split(/\s+/).slice(-1)[0] ?? '').toLowerCase()
  return name === '' ? '' : name + (/\d{4}/.exec(year)?.[0] ?? '')
}

const plain = (text: string) =>
  text
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/[^A-Za-z0-9:._/+-]/g, '')

/** a, b, … z, aa, ab, … */
const suffix = (at: number): string =>
  (at >= 26 ? suffix(Math.floor(at / 26) - 1) : '') + String.fromCharCode(97 + (at % 26))
