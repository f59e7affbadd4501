import type { PageHead } from '../pages.ts'
import { PAGE_ENTRIES } from './listing.ts'
import { SEARCH_KINDS, type SearchKind } from './search-kind.ts'
import type { Hits } from './search-queries.ts'
import { toSegments, type Segment } from './search-words.ts'

declare module '../pages.ts' {
  interface Pages {
    'catalogue/search': SearchPage
  }
}

interface SearchPage extends PageHead {
  readonly q: string
  readonly isAsked: boolean
  readonly count: string
  /** Every kind with its number of hits; the path is empty for a kind without any. */
  readonly kinds: readonly { label: string; hits: number; path: string; current: boolean }[]
  readonly hits: readonly { kind: string; path: string; title: readonly Segment[]; snippet: readonly Segment[] }[]
  readonly isPaged: boolean
  readonly next: string
  readonly nextLabel: string
  readonly start: string
  /** Each word on its own, where all of them together found nothing. */
  readonly alone: readonly { word: string; hits: number; path: string }[]
}

const KIND_LABELS: Record<SearchKind, { one: string; many: string; path: string }> = {
  original: { one: 'Original', many: 'Originals', path: '/originals/' },
  piece: { one: 'Piece', many: 'Pieces', path: '/pieces/' },
  draft: { one: 'Draft', many: 'Drafts', path: '/drafts/' },
  source: { one: 'Source', many: 'Sources', path: '/sources/' },
  yarn: { one: 'Yarn', many: 'Yarns', path: '/yarns/' },
}

export interface Asked {
  readonly q: string
  readonly kind: SearchKind | undefined
  readonly after: number | undefined
}

export function searchPage(
  { q, kind, after }: Asked,
  found: Hits | undefined,
  alone: readonly { word: string; hits: number }[],
): SearchPage {
  const head = { title: q.trim() === '' ? 'Search' : `Search: ${q.trim()}`, section: 'search' as const, q }
  if (!found) {
    const nothing = {
      isAsked: false,
      kinds: [],
      hits: [],
      isPaged: false,
      next: '',
      nextLabel: '',
      start: '',
      alone: [],
    }
    return {
      ...head,
      ...nothing,
      count: q.trim() === '' ? '' : 'There is no letter and no figure to look for in that.',
    }
  }
  const inAll = SEARCH_KINDS.reduce((sum, each) => sum + found.counts[each], 0)
  const inKind = kind ? found.counts[kind] : inAll
  const following = Math.min(PAGE_ENTRIES, inKind - found.before - found.hits.length)
  return {
    ...head,
    isAsked: true,
    count: sayHits(inAll, inKind, kind, found),
    kinds: inAll === 0 ? [] : kindViews(q, kind, inAll, found.counts),
    hits: found.hits.map((hit) => ({
      kind: KIND_LABELS[hit.kind].one,
      path: KIND_LABELS[hit.kind].path + hit.id,
      title: toSegments(hit.title),
      snippet: toSegments(toExcerpt(hit.snippet)),
    })),
    isPaged: found.next !== undefined || after !== undefined,
    next: found.next ? address(q, kind, found.next) : '',
    nextLabel: following === 1 ? 'The next one' : `The next ${following}`,
    start: after ? address(q, kind) : '',
    alone: alone.map(({ word, hits }) => ({ word, hits, path: address(word) })),
  }
}

/** One line: the texts that the index parts by a unit separator are parted by dots, Markdown's marks are left out. */
function toExcerpt(snippet: string): string {
  const texts = snippet.split('\u001f').map((text) => text.replace(/[*`]/g, '').replace(/\s+/g, ' ').trim())
  return texts.filter((text) => text !== '').join(' · ')
}

function kindViews(q: string, kind: SearchKind | undefined, inAll: number, counts: Hits['counts']) {
  const views = SEARCH_KINDS.map((each) => ({
    label: KIND_LABELS[each].many,
    hits: counts[each],
    path: counts[each] > 0 ? address(q, each) : '',
    current: each === kind,
  }))
  return [{ label: 'Everything', hits: inAll, path: address(q), current: kind === undefined }, ...views]
}

function sayHits(inAll: number, inKind: number, kind: SearchKind | undefined, { hits, before }: Hits): string {
  if (inAll === 0) return 'Nothing in the notebook has that.'
  if (inKind === 0 && kind) return `No ${KIND_LABELS[kind].one.toLowerCase()} has that.`
  const places = `${inKind} ${inKind === 1 ? 'place' : 'places'}`
  if (hits.length === inKind) return `Found in ${places}, the closest first.`
  if (hits.length === 0) return `Found in ${places}; none stands behind this one.`
  return `${before + 1} to ${before + hits.length} of ${places}, the closest first.`
}

function address(q: string, kind?: SearchKind, after?: number): string {
  const query = new URLSearchParams({ q })
  if (kind) query.set('kind', kind)
  if (after !== undefined) query.set('after', String(after))
  return `/search?${query.toString()}`
}
