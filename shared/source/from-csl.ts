import type { CslItem, CslText } from './csl.ts'
import { readDoi, readIsbn, readIssn } from './identifier.ts'
import { isNumbered, isWhole, kindOf } from './kind.ts'
import { writeNames } from './name.ts'
import { containerKey, issueKey } from './to-csl.ts'
import type { OtherCsl, SourceWords } from './words.ts'
import { writeYear } from './year.ts'

export interface FromCsl {
  readonly words: SourceWords
  readonly other: OtherCsl
  /** What is not kept, each with its reason. */
  readonly lost: readonly string[]
}

/** A CSL item as a source. What the form has no field for goes along in `other`. */
export function fromCslItem(item: CslItem): FromCsl {
  const { type } = item
  const kind = kindOf(type, item.custom?.kind)
  const taken = new Set<string>(['id', 'type', 'custom', 'citation-key', 'author', 'issued', 'note'])
  const lost: string[] = []
  const take = (key: CslText): string => {
    taken.add(key)
    return (item[key] ?? '').replace(/\s+/g, ' ').trim()
  }
  const takeChecked = (key: 'DOI' | 'ISBN' | 'ISSN', read: typeof readIsbn): string => {
    const typed = take(key)
    if (typed === '' || read(typed).ok) return typed
    const several = typed.split(/[\s,;]+/).find((part) => read(part).ok)
    const found = read(typed)
    lost.push(
      several === undefined
        ? `${key} “${typed.slice(0, 60)}” left out: ${found.ok ? '' : found.problem}`
        : `${key}: of several the first that is right`,
    )
    return several ?? ''
  }
  const { author = [], editor = [] } = item
  const editedWhole = author.length === 0 && (isWhole(type) || isNumbered(type))
  taken.add('editor')
  const accessedOn = writeYear(item.accessed)
  const isAccessDay = /^\d{4}-\d{2}-\d{2}$/.test(accessedOn)
  if (isAccessDay) taken.add('accessed')
  const url = take('URL')
  const isAddress = /^https?:\/\/\S+$/i.test(url)
  if (url !== '' && !isAddress) lost.push(`URL “${url.slice(0, 60)}” left out: no web address`)
  const words: SourceWords = {
    title: take('title'),
    people: editedWhole ? editor.map((name) => `${writeNames([name])} (ed.)`).join('; ') : writeNames(author),
    editors: editedWhole ? '' : writeNames(editor),
    year: writeYear(item.issued),
    kind,
    container: take(containerKey(type)),
    volume: take('volume'),
    issue: take(issueKey(type)),
    pages: take('page'),
    publisher: take('publisher'),
    place: take('publisher-place'),
    edition: take('edition'),
    doi: takeChecked('DOI', readDoi),
    isbn: takeChecked('ISBN', readIsbn),
    issn: takeChecked('ISSN', readIssn),
    url: isAddress ? url : '',
    accessedOn: isAccessDay ? accessedOn : '',
    citeKey: (item['citation-key'] ?? item.id).trim(),
    notes: (item.note ?? '').trim(),
  }
  const rest = Object.entries(item).filter(([key]) => !taken.has(key))
  // The type goes along where the kind alone would give another one.
  return { words, other: { ...Object.fromEntries(rest), ...otherType(type) }, lost }
}

const PLAIN_TYPES = new Set([
  ...['article-journal', 'book', 'chapter', 'report', 'thesis', 'graphic', 'webpage', 'personal_communication'],
  'document',
])
const otherType = (type: CslItem['type']): OtherCsl => (PLAIN_TYPES.has(type) ? {} : { type })
