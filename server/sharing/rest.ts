import { sql } from 'kysely'
import type { Db } from '../db/open.ts'
import { rawRows } from '../db/raw.ts'
import type { Visibility } from '../db/tables.ts'
import { isOwn, readable, type Owned } from '../rights/readable.ts'

/** Something that another thing rests on: without it a reader sees less. */
export interface Ground {
  readonly noun: Owned
  readonly id: number
  readonly name: string
  readonly visibility: Visibility
  readonly isReadable: boolean
  readonly isMine: boolean
}

const RANKS: Readonly<Record<Visibility, number>> = { private: 0, members: 1, published: 2 }

/**
 * All that a thing rests on and that fewer people may see than the thing itself: its original and its draft, the sources
 * of its claims, and theirs in turn.
 */
export function listHiddenGrounds(db: Db, noun: Owned, id: number, visibility: Visibility): Ground[] {
  const found = new Map<string, Ground>()
  const follow = (of: Owned, from: number) => {
    for (const ground of listGrounds(db, of, from)) {
      const key = `${ground.noun} ${ground.id}`
      if (found.has(key)) continue
      found.set(key, ground)
      follow(ground.noun, ground.id)
    }
  }
  follow(noun, id)
  return [...found.values()].filter((ground) => RANKS[ground.visibility] < RANKS[visibility])
}

function listGrounds(db: Db, noun: Owned, id: number): Ground[] {
  const select = (of: Owned, ids: ReturnType<typeof sql>) => {
    const name = sql.ref(of === 'source' || of === 'draft' ? 'title' : 'name')
    const mine = of === 'piece' ? sql`0` : isOwn(of)
    const query = sql<Omit<Ground, 'isReadable' | 'isMine'> & { isReadable: number; isMine: number }>`select
      ${sql.lit(of)} as noun, id, ${name} as name, visibility, ${readable(of)} as "isReadable", ${mine} as "isMine"
      from ${sql.table(of)} where deleted_at is null and id in (${ids}) order by ${name}, id`
    return rawRows(db, query).map((row) => ({ ...row, isReadable: row.isReadable === 1, isMine: row.isMine === 1 }))
  }
  const cited = (key: 'original_id' | 'piece_id') =>
    select('source', sql`select source_id from claim where ${sql.ref(key)} = ${id} and withdrawn_on is null`)
  switch (noun) {
    case 'source':
    case 'yarn':
    case 'weighting':
      return []
    case 'original':
      return cited('original_id')
    case 'draft':
      return select('original', sql`select original_id from draft where id = ${id}`)
    case 'piece':
      return [
        ...select('original', sql`select original_id from piece where id = ${id}`),
        ...select(
          'draft',
          sql`select r.draft_id from piece p join draft_revision r on r.id = p.draft_revision_id where p.id = ${id}`,
        ),
        ...cited('piece_id'),
      ]
  }
}
