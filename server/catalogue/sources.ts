import { sql } from 'kysely'
import { readable, readableRows } from '../rights/readable.ts'
import { SOURCE_KINDS, type SourceKind } from '../source/form.ts'
import type { Catalogue } from './listing.ts'

export interface SourceEntry {
  readonly id: number
  readonly title: string
  readonly people: string
  readonly year: string
  readonly kind: SourceKind
  /** Resting on it, not counting the withdrawn ones. */
  readonly claims: number
}

export const sources = (): Catalogue<SourceEntry> => ({
  from: readableRows('source', 's'),
  columns: sql<SourceEntry>`s.id, s.title, s.people, s.year, s.kind,
    (select count(*) from claim as c where c.source_id = s.id and c.withdrawn_on is null
      and (exists (select 1 from original as o where o.id = c.original_id and ${readable('original', 'o')})
        or exists (select 1 from piece as p where p.id = c.piece_id and ${readable('piece', 'p')}))) as claims`,
  id: sql<number>`s.id`,
  order: sql<string>`s.title`,
  facets: [{ name: 'kind', label: 'Kind', any: 'Any kind', value: sql<string>`s.kind`, text: SOURCE_KINDS }],
})
