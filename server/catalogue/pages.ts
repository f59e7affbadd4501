import type { PageHead } from '../pages.ts'
import { viewerMayCreate } from '../rights/allowed.ts'
import { readAfter } from './after.ts'
import type { Chosen, Facet } from './facet.ts'
import { PAGE_ENTRIES, type Listing } from './listing.ts'

declare module '../pages.ts' {
  interface Pages {
    'catalogue/list': CataloguePage
  }
}

/** What one chooses an entry by. An empty text is shown as "not given". */
export interface EntryView {
  readonly path: string
  readonly title: string
  /** A strip of the woven face; empty where there is none. */
  readonly picture: string
  /** What a tick of it sends; empty where nothing is done with ticked entries. */
  readonly tick: string
  readonly facts: readonly { label: string; text: string; path: string; number: boolean }[]
}

/** What a list is of, and what is said where there is nothing yet. */
export interface ListWords {
  readonly section: 'originals' | 'pieces' | 'drafts' | 'sources'
  readonly title: string
  readonly one: string
  readonly many: string
  readonly order: string
  readonly add: string
  readonly goesHere: string
  readonly example: string
}

interface CataloguePage extends PageHead {
  readonly path: string
  /** Empty for who may record nothing. */
  readonly newPath: string
  readonly add: string
  readonly goesHere: string
  readonly example: string
  readonly isEmpty: boolean
  readonly count: string
  readonly filters: readonly FilterView[]
  readonly isFiltered: boolean
  readonly entries: readonly EntryView[]
  /** What is done with the entries that are ticked; empty where nothing is. */
  readonly ticked: Ticked | ''
  /** What else can be done with the whole list. */
  readonly more: readonly { readonly path: string; readonly label: string }[]
  /** Whether there is a page before or behind this one. */
  readonly isPaged: boolean
  readonly next: string
  readonly nextLabel: string
  readonly start: string
}

interface FilterView {
  readonly name: string
  readonly id: string
  readonly label: string
  readonly options: readonly { value: string; label: string; selected: boolean }[]
}

interface Ticked {
  readonly name: string
  readonly path: string
  /** Before each entry, and on the button. */
  readonly label: string
  readonly button: string
}

const TICKED: Readonly<Partial<Record<ListWords['section'], Ticked>>> = {
  pieces: { name: 'piece', path: '/compare', label: 'Compare', button: 'Compare the ticked pieces' },
  sources: { name: 'source', path: '/bibliography', label: 'Choose', button: 'Bibliography of the ticked sources' },
}

export const fact = (label: string, text: string | null, path = '') => ({
  ...{ label, text: text ?? '', path },
  number: false,
})
export const figure = (label: string, text: string) => ({ label, text, path: '', number: true })

export function cataloguePage<Entry>(
  words: ListWords,
  listing: Listing<Entry>,
  facets: readonly Facet[],
  chosen: Chosen,
  after: string,
  toView: (entry: Entry) => EntryView,
): CataloguePage {
  const { section, title, add, goesHere, example } = words
  const path = `/${section}`
  const { found, before, entries, next } = listing
  const following = Math.min(PAGE_ENTRIES, found - before - entries.length)
  const begins = readAfter(after) === undefined
  return {
    ...{ title, section, path, add, goesHere, example },
    newPath: viewerMayCreate() ? `${path}/new` : '',
    isEmpty: listing.inAll === 0,
    count: sayShown(words, listing),
    filters: facets.map((facet, index) => toFilter(facet, listing.choices[index] ?? [], chosen)),
    isFiltered: Object.keys(chosen).length > 0,
    entries: entries.map(toView),
    ticked: (entries.length > 0 && TICKED[section]) || '',
    more: section === 'sources' ? moreOfSources() : [],
    next: next === undefined ? '' : address(path, chosen, next),
    nextLabel: following === 1 ? 'The next one' : `The next ${following}`,
    start: begins ? '' : address(path, chosen),
    isPaged: next !== undefined || !begins,
  }
}

const moreOfSources = () => [
  ...(viewerMayCreate() ? [{ path: '/sources/import', label: 'Import sources' }] : []),
  { path: '/bibliography', label: 'Bibliography of all' },
  { path: '/claims/unsupported', label: 'Claims without a source' },
]

/** How many there are, how many pass the filters, and which of those are shown. */
export function sayShown(words: Pick<ListWords, 'one' | 'many' | 'order'>, listing: Listing<unknown>): string {
  const { inAll, found, before, entries } = listing
  const count = (number: number) => `${number} ${number === 1 ? words.one : words.many}`
  if (found === 0) return `None of ${count(inAll)} passes these filters.`
  const passing = found === inAll ? count(inAll) : `${found} of ${count(inAll)}`
  if (entries.length === found) return `${passing}, ${words.order}.`
  if (entries.length === 0) return `${passing}; none stands behind this place in the list.`
  return `${before + 1} to ${before + entries.length} of ${passing}, ${words.order}.`
}

function toFilter(facet: Facet, choices: Listing<unknown>['choices'][number], chosen: Chosen): FilterView {
  const { name, label, any } = facet
  const all = choices.reduce((sum, choice) => sum + choice.leaves, 0)
  const options = [{ value: '', text: any, leaves: all }, ...choices].map(({ value, text, leaves }) => ({
    ...{ value, label: `${text} (${leaves})` },
    selected: value === (chosen[name] ?? ''),
  }))
  return { name, id: `filter-${name}`, label, options }
}

function address(path: string, chosen: Chosen, after?: string): string {
  const query = new URLSearchParams(chosen)
  if (after !== undefined) query.set('after', after)
  const text = query.toString()
  return text === '' ? path : `${path}?${text}`
}
