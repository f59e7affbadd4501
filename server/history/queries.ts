import type { Db } from '../db/open.ts'
import type { Owned } from '../rights/readable.ts'

/** One entry of the log: who did what to which row, and from what to what. */
export interface Change {
  readonly id: number
  readonly at: string
  /** Empty for the lone maker, and for the program itself. */
  readonly who: string
  readonly kind: string
  readonly itemId: number
  readonly action: 'insert' | 'update' | 'delete'
  readonly fields: Readonly<Record<string, readonly [before: unknown, after: unknown]>>
}

/** What belongs to a thing and has a history of its own. */
const CHILDREN: Readonly<
  Record<
    Owned,
    readonly {
      table: 'claim' | 'sitting' | 'photo' | 'observed' | 'lot' | 'plan' | 'judgement' | 'decision'
      key: 'original_id' | 'piece_id' | 'yarn_id'
    }[]
  >
> = {
  source: [],
  draft: [],
  weighting: [],
  yarn: [{ table: 'lot', key: 'yarn_id' }],
  original: [
    { table: 'claim', key: 'original_id' },
    { table: 'photo', key: 'original_id' },
    { table: 'observed', key: 'original_id' },
    { table: 'decision', key: 'original_id' },
  ],
  piece: [
    { table: 'claim', key: 'piece_id' },
    { table: 'sitting', key: 'piece_id' },
    { table: 'plan', key: 'piece_id' },
    { table: 'photo', key: 'piece_id' },
    { table: 'observed', key: 'piece_id' },
    { table: 'judgement', key: 'piece_id' },
    { table: 'decision', key: 'piece_id' },
  ],
}

/** Changes of a thing and of what belongs to it, the latest first; one page of them, older than `before` when given. */
export function listChanges(db: Db, noun: Owned, id: number, before?: number, most = 100): Change[] {
  const rows = db.all(
    db.sql
      .selectFrom('change')
      .leftJoin('member', 'member.id', 'change.member_id')
      .select([
        'change.id',
        'change.at',
        'member.name',
        'change.kind',
        'change.item_id',
        'change.action',
        'change.fields',
      ])
      .where((e) =>
        e.or([
          e.and([e('change.kind', '=', noun), e('change.item_id', '=', id)]),
          // A restore changes everything.
          e('change.kind', '=', 'notebook'),
          ...CHILDREN[noun].map(({ table, key }) =>
            e.and([
              e('change.kind', '=', table),
              e(
                'change.item_id',
                'in',
                e
                  .selectFrom(table)
                  .select('id')
                  .where(key as 'piece_id', '=', id),
              ),
            ]),
          ),
        ]),
      )
      .where('change.id', '<', before ?? Number.MAX_SAFE_INTEGER)
      .orderBy('change.id', 'desc')
      .limit(most),
  )
  return rows.map((row) => ({
    id: row.id,
    at: row.at,
    who: row.name ?? '',
    kind: row.kind,
    itemId: row.item_id,
    action: row.action,
    fields: JSON.parse(row.fields) as Change['fields'],
  }))
}

/** What a history stands over. */
export function findTitle(db: Db, noun: Owned, id: number): string | undefined {
  if (noun === 'source' || noun === 'draft')
    return db.first(db.sql.selectFrom(noun).select('title').where('id', '=', id))?.title
  return db.first(db.sql.selectFrom(noun).select('name').where('id', '=', id))?.name
}
