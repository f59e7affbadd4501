import { sql } from 'kysely'
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

export const sources: Catalogue<SourceEntry> = {
  from: sql`source as s`,
  columns: sql<SourceEntry>`s.id, s.title, s.people, s.year, s.kind,
    (select count(*) from claim as c where c.source_id = s.id and c.withdrawn_on is null) as claims`,
  id: sql<number>`s.id`,
  order: sql<string>`s.title`,
  facets: [{ name: 'kind', label: 'Kind', any: 'Any kind', value: sql<string>`s.kind`, text: SOURCE_KINDS }],
}
