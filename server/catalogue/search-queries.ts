import { sql } from 'kysely'
import type { Db } from '../db/open.ts'
import { rawRows } from '../db/raw.ts'
import { PAGE_ENTRIES } from './listing.ts'
import { HIT_END, HIT_START } from './search-words.ts'

/** In the order of their numbers in the row ids of the index (row id = id x 4 + number). */
export const SEARCH_KINDS = ['original', 'piece', 'draft', 'source'] as const
export type SearchKind = (typeof SEARCH_KINDS)[number]

export interface Hit {
  readonly kind: SearchKind
  readonly id: number
  /** With marks around what was found. */
  readonly title: string
  readonly snippet: string
}

/** Where a page of hits begins: behind this one. The score is as SQLite computed it, in full. */
export interface AfterHit {
  readonly score: number
  readonly rowid: number
}

export interface Hits {
  readonly hits: readonly Hit[]
  /** How many there are of each kind, whatever kind is chosen. */
  readonly counts: Readonly<Record<SearchKind, number>>
  readonly before: number
  readonly next: AfterHit | undefined
}

/** A word in a title counts for as much as this many in the text. */
const TITLE_WEIGHT = 8

/** Ranked first and only then marked: a snippet reads the whole text, and only the hits of this page need one. */
export function searchNotebook(db: Db, match: string, kind?: SearchKind, after?: AfterHit): Hits {
  const score = sql`bm25(search, 0, 0, ${sql.lit(TITLE_WEIGHT)}, 1)`
  const ofKind = kind ? sql`and rowid % 4 = ${SEARCH_KINDS.indexOf(kind)}` : sql``
  const ranked = sql`select rowid as r, ${score} as score from search where search match ${match} ${ofKind}`
  const behind = after ? sql`where (score, r) > (${after.score}, ${after.rowid})` : sql``
  const shown = sql<Hit & AfterHit>`
    select search.kind, search.item_id as id, page.score, search.rowid,
      highlight(search, 2, ${HIT_START}, ${HIT_END}) as title,
      snippet(search, 3, ${HIT_START}, ${HIT_END}, '…', 24) as snippet
    from (select * from (${ranked}) ${behind} order by score, r limit ${PAGE_ENTRIES + 1}) as page
    join search on search.rowid = page.r
    where search match ${match} order by page.score, page.r`
  const rows = rawRows(db, shown)
  const hits = rows.slice(0, PAGE_ENTRIES)
  const last = hits.at(-1)
  return {
    hits,
    counts: countHits(db, match),
    before: after ? countBefore(db, ranked, after) : 0,
    next: rows.length > PAGE_ENTRIES && last ? { score: last.score, rowid: last.rowid } : undefined,
  }
}

function countHits(db: Db, match: string): Record<SearchKind, number> {
  const query = sql<{ kind: number; hits: number }>`select rowid % 4 as kind, count(*) as hits from search
    where search match ${match} group by 1`
  const counts = { original: 0, piece: 0, draft: 0, source: 0 }
  for (const row of rawRows(db, query)) counts[SEARCH_KINDS[row.kind]!] = row.hits
  return counts
}

function countBefore(db: Db, ranked: ReturnType<typeof sql>, { score, rowid }: AfterHit): number {
  const query = sql<{ hits: number }>`select count(*) as hits from (${ranked}) where (score, r) <= (${score}, ${rowid})`
  return rawRows(db, query)[0]?.hits ?? 0
}

export const toAfterHit = ({ score, rowid }: AfterHit): string => `${rowid}.${score}`

export function readAfterHit(typed: unknown): AfterHit | undefined {
  const found = typeof typed === 'string' ? /^([1-9]\d{0,15})\.(-?\d+(?:\.\d+)?(?:e-?\d+)?)$/.exec(typed) : null
  return found ? { rowid: Number(found[1]), score: Number(found[2]) } : undefined
}
