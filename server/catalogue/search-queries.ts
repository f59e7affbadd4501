import { sql } from 'kysely'
import type { Db } from '../db/open.ts'
import { rawRows } from '../db/raw.ts'
import { PAGE_ENTRIES } from './listing.ts'
import { SEARCH_KINDS, type SearchKind } from './search-kind.ts'
import { kindIn, listScopes, matchIn } from './search-scope.ts'
import { HIT_END, HIT_START } from './search-words.ts'

export interface Hit {
  readonly kind: SearchKind
  readonly id: number
  /** With marks around what was found. */
  readonly title: string
  readonly snippet: string
}

export interface Hits {
  readonly hits: readonly Hit[]
  /** How many there are of each kind, whatever kind is chosen. */
  readonly counts: Readonly<Record<SearchKind, number>>
  readonly before: number
  /** The row that the next page begins behind; undefined on the last one. */
  readonly next: number | undefined
}

/** A word in a title counts for as much as this many in the text. */
const TITLE_WEIGHT = 8

interface ShownRow extends Hit {
  readonly rowid: number
  readonly own: string
  readonly cited: string
}

/**
 * Ranked first and only then marked: a snippet reads the whole text, and only the hits of this page need one.
 * @param after the row that the page before ended with; when it is gone, the page begins at the start
 */
export function searchNotebook(db: Db, match: string, kind?: SearchKind, after?: number): Hits {
  const ofKind = kind ? sql`where ${kindIn(sql`r`)} = ${SEARCH_KINDS.indexOf(kind)}` : sql``
  const ranked = sql`select * from (${rankedIn(match)}) ${ofKind}`
  const before = after === undefined ? 0 : countBefore(db, ranked, after)
  const shown = sql<ShownRow>`
    select search.kind, search.item_id as id, search.rowid,
      highlight(search, 2, ${HIT_START}, ${HIT_END}) as title, ${snippetOf(3)} as snippet,
      iif(page.own, ${snippetOf(4)}, '') as own, iif(page.cited, ${snippetOf(5)}, '') as cited
    from (select * from (${ranked}) order by score, r limit ${PAGE_ENTRIES + 1} offset ${before}) as page
    join search on search.rowid = page.r
    where search match ${match} order by page.score, page.r`
  const rows = rawRows(db, shown)
  const hits = rows.slice(0, PAGE_ENTRIES)
  return {
    hits: hits.map(({ kind: ofHit, id, title, ...texts }) => ({ kind: ofHit, id, title, snippet: pick(texts) })),
    counts: countHits(db, match),
    before,
    next: rows.length > PAGE_ENTRIES ? hits.at(-1)?.rowid : undefined,
  }
}

const snippetOf = (column: number) => sql`snippet(search, ${sql.lit(column)}, ${HIT_START}, ${HIT_END}, '…', 24)`

/** The text that something was found in; the body where it was the title. */
function pick({ snippet, own, cited }: Pick<ShownRow, 'snippet' | 'own' | 'cited'>): string {
  return [snippet, own, cited].find((text) => text.includes(HIT_START)) ?? snippet
}

/** Every row that the viewer may find by these words, with its score and the columns that it may be found by. */
function rankedIn(match: string) {
  const score = sql`bm25(search, 0, 0, ${sql.lit(TITLE_WEIGHT)}, 1, 1, 1)`
  const scopes = listScopes().map(
    (scope) => sql`select search.rowid as r, ${score} as score, ${sql.lit(scope.own)} as own,
      ${sql.lit(scope.cited)} as cited from search where search match ${matchIn(scope, match)} and ${scope.rows}`,
  )
  return sql.join(scopes, sql` union all `)
}

function countHits(db: Db, match: string): Record<SearchKind, number> {
  const query = sql<{ kind: number; hits: number }>`select ${kindIn(sql`r`)} as kind, count(*) as hits
    from (${rankedIn(match)}) group by 1`
  const counts = { original: 0, piece: 0, draft: 0, source: 0, yarn: 0 }
  for (const row of rawRows(db, query)) counts[SEARCH_KINDS[row.kind]!] = row.hits
  return counts
}

/** The score stays in here: it tells how often the words stand in things that the viewer may not see. */
function countBefore(db: Db, ranked: ReturnType<typeof sql>, after: number): number {
  const rows = rawRows(db, sql<{ r: number }>`select r from (${ranked}) order by score, r`)
  return rows.findIndex(({ r }) => r === after) + 1
}

export function readAfterHit(typed: unknown): number | undefined {
  return typeof typed === 'string' && /^-?[1-9]\d{0,14}$/.test(typed) ? Number(typed) : undefined
}
