import { sql } from 'kysely'
import { readable, readableRows } from '../rights/readable.ts'
import { orNotGiven } from './facet.ts'
import type { Catalogue } from './listing.ts'

export interface OriginalEntry {
  readonly id: number
  readonly name: string
  readonly holder: string
  readonly inventoryNumber: string
  readonly dateEdtf: string
  readonly technique: string
  /** Not counting the withdrawn ones. */
  readonly claims: number
  readonly pieces: number
}

export const originals = (): Catalogue<OriginalEntry> => ({
  from: readableRows('original', 'o'),
  columns: sql<OriginalEntry>`o.id, o.name, o.holder, o.inventory_number as "inventoryNumber", o.date_edtf as "dateEdtf",
    o.technique,
    (select count(*) from claim as c where c.original_id = o.id and c.withdrawn_on is null) as claims,
    (select count(*) from piece as p where p.original_id = o.id and ${readable('piece', 'p')}) as pieces`,
  id: sql<number>`o.id`,
  order: sql<string>`o.name`,
  facets: [
    {
      ...{ name: 'holder', label: 'Holder', any: 'Any holder' },
      value: orNotGiven(sql<string>`o.holder`),
      text: sql<string>`o.holder`,
    },
    {
      ...{ name: 'technique', label: 'Technique', any: 'Any technique' },
      value: orNotGiven(sql<string>`o.technique`),
      text: sql<string>`o.technique`,
    },
    {
      ...{ name: 'pieces', label: 'Pieces woven from it', any: 'With or without' },
      value: sql<string>`case when exists (select 1 from piece as p where p.original_id = o.id and ${readable('piece', 'p')})
        then 'with' else 'without' end`,
      text: { with: 'with pieces', without: 'without pieces' },
    },
  ],
})
