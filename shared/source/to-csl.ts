import type { CslItem, CslText } from './csl.ts'
import { isNumbered, isWhole, kindOf, TYPE_OF_KIND } from './kind.ts'
import { readNames } from './name.ts'
import type { OtherCsl, SourceWords } from './words.ts'
import { readYear } from './year.ts'

/**
 * A source as a CSL item. Own notes are left out: they are no part of a citation, and a file of sources adds them.
 * @param id by which the item is called
 */
export function toCslItem(source: Omit<SourceWords, 'notes'>, other: OtherCsl, id: string): CslItem {
  const own = TYPE_OF_KIND[source.kind]
  const type = other.type !== undefined && kindOf(other.type) === source.kind ? other.type : own
  const { authors, editors } = readNames(source.people)
  const beside = readNames(source.editors)
  const allEditors = [...editors, ...beside.authors, ...beside.editors]
  const texts: [CslText, string][] = [
    ['title', source.title],
    [containerKey(type), source.container],
    ['volume', source.volume],
    [issueKey(type), source.issue],
    ['page', source.pages],
    ['publisher', source.publisher],
    ['publisher-place', source.place],
    ['edition', source.edition],
    ['DOI', source.doi],
    ['ISBN', source.isbn],
    ['ISSN', source.issn],
    ['URL', source.url],
  ]
  const issued = readYear(source.year)
  const accessed = readYear(source.accessedOn)
  return {
    ...other,
    id,
    type,
    ...(source.citeKey === '' ? {} : { 'citation-key': source.citeKey }),
    ...Object.fromEntries(texts.filter(([, text]) => text !== '')),
    ...(authors.length > 0 ? { author: authors } : {}),
    ...(allEditors.length > 0 ? { editor: allEditors } : {}),
    ...(issued ? { issued } : {}),
    ...(accessed ? { accessed } : {}),
    // Only where the type alone does not tell it.
    ...(kindOf(type) === source.kind ? {} : { custom: { kind: source.kind } }),
  }
}

export const containerKey = (type: CslItem['type']): CslText =>
  isWhole(type) || isNumbered(type) ? 'collection-title' : 'container-title'
export const issueKey = (type: CslItem['type']): CslText =>
  isNumbered(type) ? 'number' : isWhole(type) || type === 'chapter' ? 'collection-number' : 'issue'
