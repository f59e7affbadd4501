import { readDoi, readIsbn } from './identifier.ts'
import type { SourceWords } from './words.ts'

type Compared = Pick<SourceWords, 'title' | 'year' | 'kind' | 'doi' | 'isbn'>

/** By what two sources are taken for one. */
export type SameBy = 'DOI' | 'ISBN' | 'title and year'

/**
 * What a source is known again by, strongest first. A chapter is not known by the ISBN of its book, for every chapter of
 * it has that one.
 */
export function keysOf({ title, year, kind, doi, isbn }: Compared): { by: SameBy; key: string }[] {
  const readAsDoi = doi === '' ? undefined : readDoi(doi)
  const readAsIsbn = isbn === '' || kind === 'chapter' ? undefined : readIsbn(isbn)
  const name = plain(title)
  const on = /\d{4}/.exec(year)?.[0] ?? plain(year)
  return [
    ...(readAsDoi?.ok ? [{ by: 'DOI' as const, key: `doi ${readAsDoi.value.toLowerCase()}` }] : []),
    ...(readAsIsbn?.ok ? [{ by: 'ISBN' as const, key: `isbn ${readAsIsbn.value}` }] : []),
    ...(name === '' ? [] : [{ by: 'title and year' as const, key: `title ${name} ${on}` }]),
  ]
}

/** Letters and digits alone, without accents and capitals. */
const plain = (text: string) =>
  text
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim()
