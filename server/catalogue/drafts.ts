import { sql } from 'kysely'
import { readable, readableRows } from '../rights/readable.ts'
import type { Catalogue } from './listing.ts'

export interface DraftEntry {
  readonly id: number
  readonly title: string
  /** The newest one, which the figures are of. */
  readonly revision: number
  readonly tablets: number
  readonly picks: number
  readonly twistNeutral: 0 | 1
  /** See `writtenText`. */
  readonly convention: string
  readonly originalId: number | null
  readonly originalName: string | null
  /** Woven from any of its revisions. */
  readonly pieces: number
}

export const drafts = (): Catalogue<DraftEntry> => ({
  from: sql`${readableRows('draft', 'd')}
    join draft_revision as r on r.draft_id = d.id
      and r.number = (select max(n.number) from draft_revision as n where n.draft_id = d.id)
    left join original as o on o.id = d.original_id and ${readable('original', 'o')}`,
  columns: sql<DraftEntry>`d.id, d.title, r.number as revision, r.tablets, r.picks, r.twist_neutral as "twistNeutral", d.convention,
    d.original_id as "originalId", o.name as "originalName",
    (select count(*) from piece as p join draft_revision as w on w.id = p.draft_revision_id
      where w.draft_id = d.id and ${readable('piece', 'p')}) as pieces`,
  id: sql<number>`d.id`,
  order: sql<string>`d.title`,
  facets: [
    {
      ...{ name: 'twist', label: 'Twist', any: 'Any twist' },
      value: sql<string>`case r.twist_neutral when 1 then 'neutral' else 'builds' end`,
      text: { neutral: 'twist-neutral', builds: 'twist builds up' },
    },
    {
      ...{ name: 'tablets', label: 'Tablets', any: 'Any number' },
      value: sql<string>`case when r.tablets <= 10 then '1-10' when r.tablets <= 20 then '11-20'
        when r.tablets <= 40 then '21-40' when r.tablets <= 80 then '41-80' else '81-' end`,
      text: { '1-10': '1 to 10', '11-20': '11 to 20', '21-40': '21 to 40', '41-80': '41 to 80', '81-': '81 and more' },
    },
    {
      ...{ name: 'written', label: 'Written down', any: 'Any way' },
      value: sql<string>`case d.convention when '' then 'unsaid' when 'own' then 'own' else 'card' end`,
      text: { unsaid: 'card not filled in', own: 'our own frame', card: 'by a convention card' },
    },
  ],
})
