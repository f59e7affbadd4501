import type { Source } from './queries.ts'

/** Author, year, title, container, pages in plain words: where no style has printed it yet. */
export function toReference(source: Pick<Source, 'people' | 'year' | 'title' | 'container' | 'pages'>): string {
  const head = [source.people, source.year && `(${source.year})`].filter(Boolean).join(' ')
  const tail = [source.container, source.pages && `pp. ${source.pages}`].filter(Boolean).join(', ')
  return [head, source.title, tail].filter(Boolean).join('. ')
}
