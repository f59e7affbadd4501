import { sql, type RawBuilder } from 'kysely'
import type { Db } from '../db/open.ts'
import { rawRows } from '../db/raw.ts'
import { isAfter, toAfter, type After } from './after.ts'
import { listChoices, passes, type Choice, type Chosen, type Facet } from './facet.ts'

/** A list of everything of one kind: where its entries come from, in which order, and how they are filtered. */
export interface Catalogue<Entry extends { id: number }> {
  readonly from: RawBuilder<unknown>
  readonly columns: RawBuilder<Entry>
  readonly id: RawBuilder<number>
  /** What the list is sorted by, capitals counted as small letters; entries alike in it stand by age. */
  readonly order: RawBuilder<string>
  readonly facets: readonly Facet[]
}

export interface Listing<Entry> {
  readonly entries: readonly Entry[]
  /** How many there are without filters, how many the filters leave, and how many of those stand on earlier pages. */
  readonly inAll: number
  readonly found: number
  readonly before: number
  /** Where the next page begins; undefined on the last one. */
  readonly next: string | undefined
  /** In the order of the catalogue's facets. */
  readonly choices: readonly (readonly Choice[])[]
}

export const PAGE_ENTRIES = 50

export function listEntries<Entry extends { id: number }>(
  db: Db,
  { from, columns, id, order, facets }: Catalogue<Entry>,
  chosen: Chosen,
  after?: After,
): Listing<Entry> {
  const kept = passes(facets, chosen)
  const behind = after ? sql`and ${isAfter(order, id, after)}` : sql``
  const page = sql<Entry & { orderText: string }>`select ${columns}, ${order} as "orderText" from ${from}
    where ${kept} ${behind} order by ${order} collate nocase, ${id} limit ${PAGE_ENTRIES + 1}`
  const counts = sql<{ inAll: number; found: number; before: number }>`select count(*) as "inAll",
    coalesce(sum(${kept}), 0) as found,
    coalesce(sum(${kept} and not ${after ? isAfter(order, id, after) : sql`1`}), 0) as before from ${from}`
  const rows = rawRows(db, page)
  const { inAll, found, before } = rawRows(db, counts)[0]!
  const entries = rows.slice(0, PAGE_ENTRIES)
  const last = entries.at(-1)
  const more = rows.length > PAGE_ENTRIES
  return {
    ...{ entries, inAll, found, before },
    next: more && last ? toAfter({ id: last.id, text: last.orderText }) : undefined,
    choices: facets.map((facet) => listChoices(db, from, facets, facet, chosen)),
  }
}
